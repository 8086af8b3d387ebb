//! Writes `include/spurless.h` from the source of `spurless-ffi`.
fn main() {}
