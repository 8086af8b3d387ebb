//! Spurless for C.
