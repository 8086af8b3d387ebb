//! Plain quantities: never negative, never NaN.

use super::decibel::NotFinite;

macro_rules! quantity_type {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// So many of them.
            ///
            /// # Errors
            /// [`NotFinite`] for NaN, infinity or a negative number.
            pub fn new(value: f64) -> Result<Self, NotFinite> {
                if (0.0..f64::INFINITY).contains(&value) { Ok(Self(value)) } else { Err(NotFinite) }
            }

            /// The bare number.
            pub const fn value(self) -> f64 {
                self.0
            }

            /// A computed value; overflow is held at the largest number.
            pub(crate) fn saturating(value: f64) -> Self {
                Self(value.clamp(0.0, f64::MAX))
            }
        }
    };
}

quantity_type!(
    /// Effective voltage.
    Volts
);
quantity_type!(
    /// Effective sound pressure.
    Pascals
);
quantity_type!(
    /// Power.
    Watts
);
