//! Makes the invented data of `demo-data` from a seed.
fn main() {}
