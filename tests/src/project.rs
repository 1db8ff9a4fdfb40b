//! Short words for projects.
