//! How much memory each state needs, told three times: to the byte by the functions here, as bounds
//! by the constants here, and as macros made of these in `cbindgen.toml`.

use core_spurless::intermod::{self, check};
use core_spurless::plan::{self, Group, Seat, Size};
use core_spurless::raster::Raster;
use core_spurless::survey::{Cell, cells_for};
use core_spurless::units::Hertz;

use crate::check::Check;
use crate::plan::Plan;
use crate::pointer::Placed;
use crate::status::Status;
use crate::survey::Survey;

/// How all memory must be aligned: as C's `uint64_t`.
pub(crate) const ALIGNMENT: usize = align_of::<u64>();

/// Bytes for so many values, rounded up so that what follows is aligned again.
pub(crate) const fn padded(count: usize, size: usize) -> usize {
    count.saturating_mul(size).div_ceil(ALIGNMENT).saturating_mul(ALIGNMENT)
}

/// Bytes for a check of so many carriers.
pub(crate) const fn check_bytes(carriers: usize) -> Result<usize, Status> {
    if carriers > check::MOST_CARRIERS {
        return Err(Status::TooManyCarriers);
    }
    Ok(padded(1, size_of::<Placed<Check>>())
        .saturating_add(padded(carriers, size_of::<intermod::Carrier>()))
        .saturating_add(padded(check::words(carriers), size_of::<u32>())))
}

/// Bytes for a survey of so many cells.
pub(crate) const fn survey_bytes(cells: usize) -> usize {
    padded(1, size_of::<Placed<Survey>>()).saturating_add(padded(cells, size_of::<Cell>()))
}

/// The parts of a plan's memory.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PlanParts {
    pub(crate) search: Size,
    pub(crate) links: usize,
    pub(crate) foreign: usize,
    pub(crate) permits: usize,
    pub(crate) blocked: usize,
    pub(crate) spares: usize,
}

impl PlanParts {
    /// Bytes for all of them and the plan itself.
    pub(crate) const fn bytes(&self) -> usize {
        padded(1, size_of::<Placed<Plan>>())
            .saturating_add(padded(self.links, size_of::<plan::Link<'_>>()))
            .saturating_add(padded(self.foreign, size_of::<plan::Foreign<'_>>()))
            .saturating_add(padded(self.permits, size_of::<plan::Permit<'_>>()))
            .saturating_add(padded(self.blocked, size_of::<plan::Blocked<'_>>()))
            .saturating_add(padded(self.search.words, size_of::<u64>()))
            .saturating_add(padded(self.search.groups, size_of::<Group>()))
            .saturating_add(padded(self.search.seats, size_of::<Seat>()))
            .saturating_add(padded(self.search.carriers, size_of::<intermod::Carrier>()))
            .saturating_add(padded(self.spares, size_of::<Hertz>()))
    }
}

/// Bytes of a check beside its carriers. For SPURLESS_CHECK_MEMORY.
pub const SPURLESS_CHECK_BYTES: usize = 640;
/// Bytes of a check for each carrier. For SPURLESS_CHECK_MEMORY.
pub const SPURLESS_CHECK_BYTES_CARRIER: usize = 96;
/// Bytes of a survey beside its cells. For SPURLESS_SURVEY_MEMORY.
pub const SPURLESS_SURVEY_BYTES: usize = 144;
/// Bytes of a survey for each cell. For SPURLESS_SURVEY_MEMORY.
pub const SPURLESS_SURVEY_BYTES_CELL: usize = 8;
/// Cells that share one more, for their floor, at least. For SPURLESS_SURVEY_MEMORY.
pub const SPURLESS_SURVEY_CELLS_FLOOR: usize = 20;
/// Bytes of a plan beside all that follows. For SPURLESS_PLAN_MEMORY.
pub const SPURLESS_PLAN_BYTES: usize = 1536;
/// Bytes of a plan for each link and each spare. For SPURLESS_PLAN_MEMORY.
pub const SPURLESS_PLAN_BYTES_SEAT: usize = 176;
/// Bytes of a plan for each group of links that tune alike. For SPURLESS_PLAN_MEMORY.
pub const SPURLESS_PLAN_BYTES_GROUP: usize = 96;
/// Bytes of a plan for each foreign carrier. For SPURLESS_PLAN_MEMORY.
pub const SPURLESS_PLAN_BYTES_FOREIGN: usize = 112;
/// Bytes of a plan for each permit and each blocked stretch. For SPURLESS_PLAN_MEMORY.
pub const SPURLESS_PLAN_BYTES_STRETCH: usize = 24;

/// What `parts` parts may waste at their ends.
const fn waste(parts: usize) -> usize {
    parts.saturating_mul(ALIGNMENT.saturating_sub(1))
}

/// The bounds above, held against the types on the machine that this is compiled for. Where one fails,
/// raise the constant and write the header anew (`tests/run header --write`).
const _: () = {
    let check = size_of::<Placed<Check>>().saturating_add(waste(3));
    assert!(check <= SPURLESS_CHECK_BYTES);
    // Whatever grows faster or slower than the carriers shows at one end or the other.
    let mut carriers = 1;
    while carriers <= check::MOST_CARRIERS {
        let words = check::words(carriers).saturating_mul(size_of::<u32>());
        let carrier = carriers.saturating_mul(size_of::<intermod::Carrier>());
        let bound = carriers.saturating_mul(SPURLESS_CHECK_BYTES_CARRIER);
        assert!(carrier.saturating_add(words) <= bound);
        carriers = carriers.saturating_mul(2);
    }

    // With the floor that every survey has.
    let survey = size_of::<Placed<Survey>>().saturating_add(waste(2)).saturating_add(size_of::<Cell>());
    assert!(survey <= SPURLESS_SURVEY_BYTES);
    let carriers = SPURLESS_SURVEY_CELLS_FLOOR.saturating_mul(10).saturating_sub(1);
    let Ok(widest) = Raster::new(
        Hertz::ZERO,
        Hertz::new((carriers as u32).saturating_sub(1).saturating_mul(100_000)),
        Hertz::new(100_000),
    ) else {
        panic!()
    };
    assert!(cells_for(&widest) <= carriers.saturating_add(carriers / SPURLESS_SURVEY_CELLS_FLOOR));
    assert!(size_of::<Cell>() <= SPURLESS_SURVEY_BYTES_CELL);

    let plan = size_of::<Placed<Plan>>().saturating_add(waste(10));
    assert!(plan <= SPURLESS_PLAN_BYTES);
    let seat = size_of::<plan::Link<'_>>()
        .saturating_add(size_of::<Seat>().saturating_mul(2))
        // What a level of the search needs, and the mark of ruin and rebuild.
        .saturating_add(size_of::<u64>().saturating_mul(2))
        .saturating_add(size_of::<intermod::Carrier>())
        .saturating_add(size_of::<Hertz>());
    assert!(seat <= SPURLESS_PLAN_BYTES_SEAT);
    assert!(size_of::<Group>() <= SPURLESS_PLAN_BYTES_GROUP);
    // Where many stand, the fast checker looks at them; those of ours that are held have no seat.
    let standing =
        size_of::<intermod::Carrier>().saturating_add(check::words(1).saturating_mul(size_of::<u32>()));
    assert!(size_of::<plan::Link<'_>>().saturating_add(standing) <= SPURLESS_PLAN_BYTES_SEAT);
    assert!(size_of::<plan::Foreign<'_>>().saturating_add(standing) <= SPURLESS_PLAN_BYTES_FOREIGN);
    assert!(size_of::<plan::Permit<'_>>() <= SPURLESS_PLAN_BYTES_STRETCH);
    assert!(size_of::<plan::Blocked<'_>>() <= SPURLESS_PLAN_BYTES_STRETCH);
};
