//! What each device of the chain does to a level. All figures can be edited; what is typical stands in
//! `typical`.

use serde::{Deserialize, Serialize};

use super::Steps;
use crate::units::Millibels;

/// A supply for microphones.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Supply {
    /// None; a microphone with a cell of its own needs none.
    #[default]
    None,
    /// Plug-in power or bias, a few volts on the signal lead.
    PlugIn,
    /// Phantom, 12 V. Source: IEC 61938 (second hand).
    Phantom12,
    /// Phantom, 24 V. Source: IEC 61938 (second hand).
    Phantom24,
    /// Phantom, 48 V. Source: IEC 61938 (second hand).
    Phantom48,
}

/// A microphone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Microphone {
    /// Output at a pressure of 1 Pa, relative to 1 V; see [`Microphone::sensitivity`].
    pub sensitivity_dbv: Millibels,
    /// The sound pressure level of the strongest sine that it takes. A figure given as a peak is 3 dB more.
    pub max_db_spl: Millibels,
    /// The sound pressure level that its own noise is worth, A-weighted.
    pub noise_dba: Millibels,
    /// The supply that it must be given.
    #[serde(default)]
    pub needs: Supply,
}

impl Microphone {
    /// What a data sheet's millivolts per pascal are in decibels.
    ///
    /// ```
    /// use spurless::chain::Microphone;
    /// // Source: definition; 6.3 mV/Pa is -44.01 dBV/Pa.
    /// assert_eq!(Microphone::sensitivity(6.3).hundredths(), -4_401);
    /// ```
    pub fn sensitivity(millivolts_per_pascal: f64) -> Millibels {
        Millibels::of_amplitude_ratio(millivolts_per_pascal / 1_000.0)
    }
}

/// A transmitter, as seen from its microphone input.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Transmitter {
    /// The sine that modulates fully at a setting of 0 dB.
    pub full_modulation_dbv: Millibels,
    /// The setting; negative attenuates.
    pub gain: Steps,
    /// The strongest sine that its input takes before the setting, if that is known to matter.
    #[serde(default)]
    pub max_dbv: Option<Millibels>,
    /// Noise of its input.
    pub noise_dbv: Millibels,
    /// The supply that it gives.
    #[serde(default)]
    pub gives: Supply,
}

/// A receiver, as seen from its audio output.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Receiver {
    /// What full modulation gives at a setting of 0 dB.
    pub full_output_dbv: Millibels,
    /// The setting.
    pub gain: Steps,
    /// The strongest sine that the output can give, if that is known.
    #[serde(default)]
    pub max_dbv: Option<Millibels>,
    /// Noise of the output.
    pub noise_dbv: Millibels,
    /// Whether its maker says that the output stands a supply voltage.
    #[serde(default)]
    pub stands_supply: bool,
}

/// What an input is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum InputKind {
    /// Microphones.
    Mic,
    /// Lines.
    Line,
}

/// An input of a camera or a recorder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Input {
    /// What it is made for.
    pub kind: InputKind,
    /// The sine that reads 0 dBFS at a gain of 0 dB.
    pub full_scale_dbv: Millibels,
    /// The gain.
    pub gain: Steps,
    /// The strongest sine that it takes before the gain. The file's meter does not show this one.
    #[serde(default)]
    pub max_dbv: Option<Millibels>,
    /// Noise before the gain.
    pub noise_dbv: Millibels,
    /// Noise after the gain.
    pub noise_dbfs: Millibels,
    /// The supply that it gives now.
    #[serde(default)]
    pub gives: Supply,
    /// Whether it sets its gain by itself now.
    #[serde(default)]
    pub automatic_gain: bool,
}
