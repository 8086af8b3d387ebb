//! The sentences shown where the user acts, once, for every surface.

use core::fmt;

use serde::{Deserialize, Serialize};

/// Something to mind. The text says what to do, not only what could happen.
///
/// Source: common practice, no published source, unless an entry names one.
///
/// ```
/// use spurless::rules::Caution;
/// let shown: Vec<String> = Caution::CARRIERS.iter().map(Caution::to_string).collect();
/// assert!(shown[0].starts_with("A licence and local rules come first"));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Caution {
    /// Who may transmit, where, and how strongly, is not for this crate to say.
    Licence,
    /// Spectrum on which lives depend.
    Services,
    /// Two transmitters on one carrier.
    OneLive,
    /// A quiet place is not yet a working link.
    ProveOnAir,
    /// Loud headphones.
    Hearing,
    /// A supply voltage sent into an output.
    Supply,
    /// Cells and their charge.
    Cells,
}

impl Caution {
    /// All of them, in the order in which a job meets them.
    pub const ALL: [Caution; 7] = [
        Caution::Licence,
        Caution::Services,
        Caution::OneLive,
        Caution::ProveOnAir,
        Caution::Supply,
        Caution::Hearing,
        Caution::Cells,
    ];

    /// Where spectrum is chosen.
    pub const LICENCE: [Caution; 2] = [Caution::Licence, Caution::Services];

    /// Where carriers are set and switched on.
    pub const CARRIERS: [Caution; 4] =
        [Caution::Licence, Caution::Services, Caution::OneLive, Caution::ProveOnAir];

    /// The sentence.
    pub const fn text(self) -> &'static str {
        match self {
            Caution::Licence => {
                "A licence and local rules come first: find out what you may use here, at what power, before you switch on."
            }
            Caution::Services => {
                "Never transmit in spectrum of emergency, aviation or medical services, however quiet it is."
            }
            Caution::OneLive => {
                "Only one transmitter may be live on a carrier: switch one off before another on."
            }
            Caution::ProveOnAir => {
                "A plan is not a test: listen to each link with all the others on, and walk the ground."
            }
            Caution::Supply => {
                "Switch the camera's phantom or plug-in supply off before you connect a receiver: a supply voltage into its output can damage it."
            }
            Caution::Hearing => {
                "Turn headphones down before you connect or switch anything: a loud click harms hearing."
            }
            Caution::Cells => {
                "Use cells of one kind, age and charge together; never charge cells that are not made for it; take out those that are hot or leak."
            }
        }
    }
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}
