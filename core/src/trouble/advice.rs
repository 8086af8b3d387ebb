//! A remedy with the numbers of this shoot.

use core::fmt;

use super::cause::{Cause, Tool};
use crate::text::Digits;
use crate::units::Hertz;

/// What the tools found for the link in trouble; none where a tool was not asked or has no answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Numbers {
    /// The carrier planned for it.
    pub carrier: Option<Hertz>,
    /// Where repair moves it.
    pub spare: Option<Hertz>,
    /// By how many decibels to change the transmitter's input.
    pub input_change_db: Option<i8>,
    /// By how many decibels to change the receiver's output.
    pub output_change_db: Option<i8>,
    /// How far the link reaches here, in metres.
    pub reach_m: Option<u16>,
    /// When its cells are due, in minutes after midnight.
    pub cells_due_minute: Option<u16>,
}

/// What to do about a cause, with the numbers that its tool found. If the remedy interrupts a take, it says so.
///
/// ```
/// use spurless::trouble::{Advice, Cause, Numbers};
/// use spurless::units::Hertz;
/// let numbers = Numbers { spare: Some(Hertz::from_khz(524_700)), ..Numbers::default() };
/// assert_eq!(
///     Advice { cause: Cause::ForeignCarrier, numbers }.to_string(),
///     "Move this link to a spare that still stands, and tell the other crew. Move it to 524.700 MHz. \
///      This interrupts a take."
/// );
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Advice {
    /// What is wrong.
    pub cause: Cause,
    /// What the tools found.
    pub numbers: Numbers,
}

impl fmt::Display for Advice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.cause.remedy())?;
        let numbers = &self.numbers;
        match self.cause.tool() {
            Tool::Pairing => {
                if let Some(carrier) = numbers.carrier {
                    write!(f, " This link's carrier is {} MHz.", carrier.megahertz())?;
                }
            }
            Tool::Repair => {
                if let Some(spare) = numbers.spare {
                    write!(f, " Move it to {} MHz.", spare.megahertz())?;
                }
            }
            Tool::InputTrim => change(f, numbers.input_change_db)?,
            Tool::OutputTrim => change(f, numbers.output_change_db)?,
            Tool::Reach => {
                if let Some(metres) = numbers.reach_m {
                    write!(f, " Here it reaches {} m.", whole(metres, 1))?;
                }
            }
            Tool::Battery => {
                if let Some(minute) = numbers.cells_due_minute {
                    write!(f, " They are due at {}:{}.", whole(minute / 60 % 24, 1), whole(minute % 60, 2))?;
                }
            }
            Tool::Survey | Tool::Chain | Tool::Take => {}
        }
        if self.cause.stops_the_take() {
            f.write_str(" This interrupts a take.")?;
        }
        Ok(())
    }
}

fn change(f: &mut fmt::Formatter<'_>, decibels: Option<i8>) -> fmt::Result {
    let Some(decibels) = decibels else { return Ok(()) };
    let direction = match decibels {
        0 => return f.write_str(" By the last reading it is right as it is."),
        ..0 => "lower",
        _ => "higher",
    };
    write!(f, " By the last reading: {} dB {direction}.", whole(decibels.unsigned_abs().into(), 1))
}

fn whole(value: u16, at_least: usize) -> Digits {
    Digits { value: value.into(), at_least }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_tool_adds_its_own_number_and_no_other() {
        let numbers = Numbers {
            carrier: Some(Hertz::from_khz(549_000)),
            spare: Some(Hertz::from_khz(524_700)),
            input_change_db: Some(-6),
            output_change_db: Some(12),
            reach_m: Some(35),
            cells_due_minute: Some(14 * 60 + 5),
        };
        let added = |cause: Cause| {
            let text = Advice { cause, numbers }.to_string();
            text.strip_prefix(cause.remedy()).map(|rest| rest.replace(" This interrupts a take.", ""))
        };
        let expected = [
            (Cause::EndsDiffer, " This link's carrier is 549.000 MHz."),
            (Cause::Product, " Move it to 524.700 MHz."),
            (Cause::InputHigh, " By the last reading: 6 dB lower."),
            (Cause::OutputLow, " By the last reading: 12 dB higher."),
            (Cause::TooFar, " Here it reaches 35 m."),
            (Cause::TransmitterCells, " They are due at 14:05."),
            (Cause::Cable, ""),
        ];
        for (cause, words) in expected {
            assert_eq!(added(cause).as_deref(), Some(words), "{cause}");
        }
    }

    #[test]
    fn without_numbers_only_the_remedy_is_said() {
        for cause in Cause::ALL {
            let text = Advice { cause, numbers: Numbers::default() }.to_string();
            let tail = if cause.stops_the_take() { " This interrupts a take." } else { "" };
            assert_eq!(text.strip_prefix(cause.remedy()), Some(tail));
        }
    }
}
