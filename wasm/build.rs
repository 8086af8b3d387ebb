//! Asks the linker for a stack that a shoot fits on.

/// A shoot of 256 links and what is made while it is read, measured with room to spare: 1 MB, the
/// linker's own choice, overflows with the smallest shoot, since all of its lists have their full
/// length. The pages of it that are never touched cost a phone nothing.
const STACK_BYTES: u32 = 4 << 20;

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    if std::env::var("CARGO_CFG_TARGET_ARCH").is_ok_and(|arch| arch == "wasm32") {
        println!("cargo::rustc-link-arg-cdylib=-zstack-size={STACK_BYTES}");
    }
}
