//! Writes the JavaScript and TypeScript side of `spurless-wasm`.
fn main() {}
