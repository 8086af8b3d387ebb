//! No operating system, no panic: where one could be reached, the firmware does not link.

use core::panic::PanicInfo;

unsafe extern "C" {
    /// Defined nowhere. "Undefined reference" to it means that a panic is reachable in this build;
    /// build with optimisation (`--profile firmware`) before you suspect the code.
    fn spurless_a_panic_is_reachable() -> !;
}

#[panic_handler]
fn trap(_: &PanicInfo<'_>) -> ! {
    // SAFETY: it never runs; a program that could run it has not been linked.
    unsafe { spurless_a_panic_is_reachable() }
}
