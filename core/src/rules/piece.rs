//! Closed bands as stretches to keep out of, with the user's permits cut out where a permit opens them.

use super::band::{Access, Band, Service};
use super::region::Region;
use crate::units::Hertz;

/// A stretch of a closed band that no permit opens. Both edges belong to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Closed {
    /// Lower edge.
    pub low: Hertz,
    /// Upper edge.
    pub high: Hertz,
    /// Whose it is.
    pub service: Service,
    /// The band that it is part of, with its source.
    pub band: &'static Band,
}

impl Region {
    /// What is closed between `low` and `high`, told piece by piece. A permit takes its own stretch out of
    /// a mobile band; it takes nothing out of one that is absolute ([`Service::is_absolute`]).
    ///
    /// At most one piece for each closed band and one for each permit.
    ///
    /// Work: closed bands times the square of the permits.
    ///
    /// ```
    /// use spurless::rules::Region;
    /// use spurless::units::Hertz;
    ///
    /// let mhz = |mhz: u32| Hertz::from_khz(mhz * 1_000);
    /// let permits = [(mhz(600), mhz(650))];
    /// let mut pieces = Vec::new();
    /// Region::UnitedStates.closed_between(mhz(600), mhz(660), &permits, |piece| {
    ///     pieces.push((piece.low, piece.high));
    /// });
    /// // The permit opens part of the mobile band, and nothing of what is radio astronomy's.
    /// assert_eq!(pieces, [(mhz(608), mhz(614)), (mhz(650), mhz(652)), (mhz(652), mhz(653))]);
    /// ```
    pub fn closed_between(
        self,
        low: Hertz,
        high: Hertz,
        permits: &[(Hertz, Hertz)],
        mut tell: impl FnMut(Closed),
    ) {
        for band in self.closed().filter(|band| band.low <= high && low <= band.high) {
            let Access::Closed(service) = band.access else { continue };
            let permits = if service.is_absolute() { &[] } else { permits };
            let mut from = band.low;
            while from < band.high {
                // Past the permits that begin here or before.
                let open = permits.iter().filter(|p| p.0 <= from && from < p.1).map(|p| p.1).max();
                if let Some(end) = open {
                    from = end;
                    continue;
                }
                let next = permits.iter().map(|p| p.0).filter(|&start| start > from).min();
                let to = next.map_or(band.high, |start| start.min(band.high));
                tell(Closed { low: from, high: to, service, band });
                from = to;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::vec::Vec;

    #[test]
    fn a_carrier_is_inside_a_piece_exactly_where_the_answer_is_no_by_a_closed_band() {
        use crate::rules::{Question, Why};
        let mhz = |mhz: u32| Hertz::from_khz(mhz * 1_000);
        let permits =
            [(mhz(620), mhz(630)), (mhz(625), mhz(640)), (mhz(600), mhz(618)), (mhz(649), mhz(900))];
        for region in Region::ALL {
            let mut pieces = Vec::new();
            region.closed_between(mhz(0), mhz(2_000), &permits, |piece| pieces.push(piece));
            assert!(pieces.len() <= region.closed().count() + permits.len());
            for khz in (100_500..2_000_000).step_by(1_000) {
                let carrier = Hertz::from_khz(khz);
                let permitted = permits.iter().any(|p| p.0 <= carrier && carrier <= p.1);
                let question = Question { permitted, ..Question::new(region, carrier, Hertz::from_khz(200)) };
                let refused = matches!(question.answer().why, Why::Closed(..));
                let inside = pieces.iter().any(|piece| piece.low <= carrier && carrier <= piece.high);
                assert_eq!(inside, refused, "{region}, {carrier}");
            }
        }
    }

    #[test]
    fn permits_that_never_end_end_the_search() {
        let all = [(Hertz::ZERO, Hertz::new(u32::MAX)), (Hertz::new(5), Hertz::new(5))];
        let mut pieces = Vec::new();
        let low = Hertz::ZERO;
        Region::Europe.closed_between(low, Hertz::new(u32::MAX), &all, |piece| pieces.push(piece));
        assert!(pieces.iter().all(|piece| piece.service.is_absolute()) && pieces.len() == 2);
    }
}
