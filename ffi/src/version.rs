//! Which interface this is.

/// The number of the interface that this header describes. It changes when a program that was
/// compiled with an older header would misread a structure or misuse a function.
pub const SPURLESS_ABI: u32 = 1;

/// The number of the interface that the library keeps. Compare it with SPURLESS_ABI once, at the
/// start, where the library is shared and may have been exchanged.
#[unsafe(no_mangle)]
pub extern "C" fn spurless_abi() -> u32 {
    SPURLESS_ABI
}
