//! What to mind about cells, where they are put in.

use core::fmt;

use super::cell::Kind;

/// A sentence about cells of a kind. That cells of one set are of one kind, age and charge is said by
/// [`crate::rules::Caution::Cells`], which stands beside these.
///
/// Source: common practice, no published source. What the makers of the cells and of the device say comes first.
///
/// ```
/// use spurless::battery::{Care, Kind};
/// assert!(Kind::LithiumIon.cares().contains(&Care::Charging));
/// assert!(!Kind::Alkaline.cares().contains(&Care::Charging));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Care {
    /// Loose cells in a bag.
    Short,
    /// Never to be charged.
    NoCharging,
    /// Charged as the maker says.
    Charging,
    /// Dents, swelling, leaks.
    Damaged,
    /// Carrying lithium.
    Transport,
    /// A voltage higher or lower than the device expects.
    Voltage,
}

impl Care {
    /// The sentence.
    pub const fn text(self) -> &'static str {
        match self {
            Care::Short => {
                "Carry cells in a case, ends covered: loose among keys and coins they short, get hot and burn."
            }
            Care::NoCharging => "Never charge these cells: they can leak or burst.",
            Care::Charging => {
                "Charge only with a charger made for them, within the current, time and temperature that the maker gives, never frozen, and not unwatched."
            }
            Care::Damaged => {
                "Use no cell that is dented, swollen, leaking or hot: put it away from anything that burns, and hand it in as local rules say."
            }
            Care::Transport => {
                "Lithium has rules for transport: spares in hand luggage, ends covered. Ask the carrier before you travel."
            }
            Care::Voltage => "Look up whether the device allows cells of this kind: their voltage differs.",
        }
    }
}

impl fmt::Display for Care {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

impl Kind {
    /// What to mind, most important first.
    pub const fn cares(self) -> &'static [Care] {
        match self {
            Kind::Alkaline => &[Care::NoCharging, Care::Short],
            Kind::NickelMetalHydride => &[Care::Short, Care::Charging, Care::Voltage],
            Kind::LithiumIron => {
                &[Care::NoCharging, Care::Damaged, Care::Short, Care::Transport, Care::Voltage]
            }
            Kind::LithiumIon => &[Care::Damaged, Care::Charging, Care::Short, Care::Transport],
        }
    }
}
