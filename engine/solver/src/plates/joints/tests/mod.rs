//! Joints on their own.
