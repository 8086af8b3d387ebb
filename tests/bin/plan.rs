//! A shoot from a terminal.
fn main() {}
