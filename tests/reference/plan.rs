//! The planner against published sets.

use spurless::intermod::Guards;
use spurless::plan::{Link, Present, Problem, Rules, Spectrum, Status, Variation};
use spurless::raster::{Raster, Tuning};
use spurless::units::Hertz;
use spurless_tests::planning::Workspace;

/// Shortest rasters, in steps, on which n carriers are clear of third-order products of two and
/// three transmitters at guard 0: optimal Golomb rulers. Source: OEIS A003022, n = 2..10.
const GOLOMB: [(usize, u32); 10] =
    [(2, 1), (3, 3), (4, 6), (5, 11), (6, 17), (7, 25), (8, 34), (9, 44), (10, 55), (11, 72)];

fn ruler(links: usize, steps: u32, guards: Guards) -> (Status, u64, Vec<u32>) {
    let tuning = Tuning::new(&[Raster::new(Hertz::ZERO, Hertz::new(steps), Hertz::new(1)).unwrap()]).unwrap();
    let link = Link { label: "", tuning, bandwidth: Hertz::ZERO, present: Present::Unset, spares: 0 };
    let links = vec![link; links];
    let rules = Rules { spacing: Hertz::new(1), guards };
    let problem = Problem {
        links: &links,
        foreign: &[],
        spectrum: Spectrum::UNKNOWN,
        rules,
        variation: Variation::NONE,
    };
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, u64::MAX);
    while planner.progress().stage == spurless::plan::Stage::Links {
        planner.step(10_000);
    }
    let carriers = (0..links.len()).filter_map(|i| planner.carrier(i as u16)).map(Hertz::hz).collect();
    (planner.status(), planner.progress().nodes, carriers)
}

#[test]
fn the_shortest_raster_for_n_carriers_is_the_optimal_golomb_ruler() {
    let exact = Guards::third_order(Hertz::ZERO, Hertz::ZERO);
    for (n, length) in GOLOMB {
        let (status, nodes, marks) = ruler(n, length, exact);
        assert_eq!(status, Status::Complete, "{n} carriers on {length} steps");
        let mut differences: Vec<u32> =
            marks.iter().flat_map(|a| marks.iter().filter(move |&b| b > a).map(move |b| b - a)).collect();
        differences.sort_unstable();
        assert!(differences.windows(2).all(|w| w[0] != w[1]), "{marks:?} has two equal differences");
        let (status, tried, _) = ruler(n, length - 1, exact);
        assert!(matches!(status, Status::Infeasible(_)), "{n} carriers on {} steps: {status:?}", length - 1);
        println!("{n} carriers: {length} steps, found in {nodes} nodes, one step fewer refuted in {tried}");
    }
}
