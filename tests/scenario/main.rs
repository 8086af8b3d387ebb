//! The demo shoot from sweep to sheet.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects
)]

mod air;
mod plan;
mod presets;
mod repair;
mod seven;
mod takes;

/// Runs a job that needs more of a stack than a test's thread has: reading a shoot takes over 2 MiB.
fn roomy<T: Send>(job: impl FnOnce() -> T + Send) -> T {
    std::thread::scope(|scope| {
        let thread = std::thread::Builder::new().stack_size(16 << 20);
        thread.spawn_scoped(scope, job).unwrap().join().unwrap()
    })
}
