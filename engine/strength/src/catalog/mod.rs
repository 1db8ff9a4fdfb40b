//! Tables of materials, fasteners and standard sections, each with its source.
