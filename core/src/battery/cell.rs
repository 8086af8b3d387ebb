//! What cells of a kind hold, by current and by cold.

use serde::{Deserialize, Serialize};

use crate::maths;

/// What a cell is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Alkaline (LR6): not to be charged.
    #[default]
    Alkaline,
    /// Nickel-metal hydride (HR6): rechargeable.
    NickelMetalHydride,
    /// Lithium iron disulfide (FR6): not to be charged.
    LithiumIron,
    /// Lithium-ion: rechargeable, a pack of the device's maker or one built in.
    LithiumIon,
}

/// What is known of a kind.
struct Figures {
    /// Volts on average while it is emptied.
    volts: f64,
    /// What one cell holds at a current, (mA, mAh), in rising order.
    holds: &'static [(f64, f64)],
    /// What is left of that at a temperature, (°C, percent), in rising order.
    cold: &'static [(f64, f64)],
}

/// Source: IEC 60086-2 minimum average durations of LR6, from memory: 43 ohms 60 h (27.5 mA), 24 ohms 33 h
/// (47 mA), 100 mA 15 h, 250 mA 5 h. The last point continues them by common practice, no published source.
/// Cold: down to about half between 0 and -20 °C (trade texts, second hand); the rest common practice, no
/// published source.
const ALKALINE: Figures = Figures {
    volts: 1.2,
    holds: &[(27.5, 1_650.0), (47.0, 1_551.0), (100.0, 1_500.0), (250.0, 1_250.0), (1_000.0, 500.0)],
    cold: &[(-20.0, 25.0), (0.0, 55.0), (5.0, 70.0), (20.0, 100.0)],
};

/// Source: IEC 61951-2 defines the capacity at 0.2 It to 1.0 V; 2 000 mAh is typical of HR6, and 0.95 of it at
/// 1 It is from memory. Cold: a fifth less at 0 °C, half at -20 °C (common practice, no published source).
const NICKEL: Figures = Figures {
    volts: 1.2,
    holds: &[(400.0, 2_000.0), (2_000.0, 1_900.0)],
    cold: &[(-20.0, 50.0), (0.0, 80.0), (5.0, 80.0), (20.0, 100.0)],
};

/// Source: from memory, all of it.
const LITHIUM_IRON: Figures = Figures {
    volts: 1.4,
    holds: &[(200.0, 3_000.0), (1_000.0, 2_600.0)],
    cold: &[(-20.0, 75.0), (0.0, 90.0), (20.0, 100.0)],
};

/// Source: from memory, all of it; a pack has its capacity printed on it.
const LITHIUM_ION: Figures = Figures {
    volts: 3.6,
    holds: &[(200.0, 1_000.0), (1_000.0, 970.0)],
    cold: &[(-20.0, 60.0), (0.0, 85.0), (20.0, 100.0)],
};

impl Kind {
    const fn figures(self) -> &'static Figures {
        match self {
            Kind::Alkaline => &ALKALINE,
            Kind::NickelMetalHydride => &NICKEL,
            Kind::LithiumIron => &LITHIUM_IRON,
            Kind::LithiumIon => &LITHIUM_ION,
        }
    }

    /// Volts of one cell, on average while it is emptied.
    pub const fn volts(self) -> f64 {
        self.figures().volts
    }

    /// What one fresh cell holds at a current, at 20 °C.
    ///
    /// Between the points of the table the capacity follows a power of the current (Peukert's law, textbook),
    /// beyond the last it follows on; below the first it stays. A cell with another capacity printed on it
    /// holds more or less in proportion.
    ///
    /// ```
    /// use spurless::battery::Kind;
    /// // Source: IEC 60086-2 (from memory): LR6 lasts 15 h at 100 mA.
    /// assert!((Kind::Alkaline.holds_mah(100.0) / 100.0 - 15.0).abs() < 1e-9);
    /// ```
    pub fn holds_mah(self, current_ma: f64) -> f64 {
        let points = self.figures().holds;
        let mut before = points.first();
        let mut slope = 0.0;
        for pair in points.windows(2) {
            let [(from, high), (to, low)] = pair else { continue };
            if current_ma > *from {
                slope = maths::log10(low / high) / maths::log10(to / from);
                before = pair.first();
            }
        }
        let Some(&(from, holds)) = before else { return 0.0 };
        if current_ma > from { holds * maths::exp10(slope * maths::log10(current_ma / from)) } else { holds }
    }

    /// What is printed on such a cell when nothing else is known: what it holds at a small current.
    pub fn usual_mah(self) -> f64 {
        self.figures().holds.first().map_or(0.0, |&(_, holds)| holds)
    }

    /// The share that is left in the cold, 0 to 1; straight lines between the points of the table.
    pub fn share_at(self, celsius: f64) -> f64 {
        let points = self.figures().cold;
        let mut share = points.first().map_or(0.0, |&(_, percent)| percent);
        for pair in points.windows(2) {
            let [(from, low), (to, high)] = pair else { continue };
            if celsius > *to {
                share = *high;
            } else if celsius > *from {
                share = low + (high - low) * (celsius - from) / (to - from);
            }
        }
        share / 100.0
    }
}
