//! Simulated sweeps: what a receiver with known faults would have written down in an air that is known.
//!
//! [`Scene::roll`] makes a scene from a seed, [`Scene::sweep`] the text of a sweep in it together with the
//! truth. Everything is invented; the physics is this:
//!
//! - **Noise.** The power in a bin of one look is exponentially distributed, that of n looks averaged as
//!   power is gamma distributed of order n (chi-square of 2n degrees over 2n). Source: textbook; the excision
//!   factors of J. Electr. Comput. Eng. 2010, 459623, rest on the same.
//! - **A steady line in noise** adds as amplitude: |a + n|^2 of each look. Source: textbook (Rice).
//! - **Resolution bandwidth.** A Gaussian filter whose width is told at -3 dB; it takes 1.0645 of that width of
//!   noise. Source: integral of the Gaussian (derived).
//! - **Multiplex.** Flat over its standard's half width (`data/television/tv-mux-shapes.csv`), then falling to
//!   its shoulder, then on to -70 dB a channel width away; one echo ripples it as |1 + a exp(-j 2 pi f t)|^2. It
//!   is noise like the receiver's own: many independent carriers (central limit). Depth of the shoulder,
//!   30 to 45 dB, and the slope beyond: from memory. ATSC has a pilot line 11.3 dB below the whole (from memory).
//! - **Frequency modulation.** Much faster audio than deviation aside, a carrier spends its time where its
//!   instantaneous frequency is, so its spectrum is the distribution of that: a Gaussian, as wide as the
//!   passage is loud, a line in a pause. Source: Woodward's theorem (from memory).
//! - **Fading.** Where somebody walks, each pass draws a power from an exponential distribution (Rayleigh).
//!   Source: textbook, references R48 to R54 of the project's collection.
//! - **Receiver.** A floor that slopes, steps where it retunes and sags at the ends of each tuning; lines of its
//!   own clock; and, driven too hard, third-order products 2 Pa + Pb - 2 IIP3 of what it hears, and a floor that
//!   rises. Source of the formula: textbook; sizes: no published source.

mod heard;
mod receiver;
mod scene;
mod score;
mod signal;

pub use heard::{Bin, Sweep};
pub use receiver::Receiver;
pub use scene::Scene;
pub use score::{Score, judge};
pub use signal::{Carrier, Hump, Multiplex};
