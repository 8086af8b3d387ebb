//! What the rules of a region close, in a plan. Bands and sources: see `rules.rs`.

use spurless::plan::{Report, default_budget, why_not};
use spurless::shoot::Shoot;
use spurless::units::Hertz;
use spurless_tests::files::read_shoot;
use spurless_tests::planning::Workspace;

/// Reading a shoot takes more of a stack than a test's thread has.
fn on_a_large_stack(job: impl FnOnce() + Send) {
    std::thread::scope(|scope| {
        let thread = std::thread::Builder::new().stack_size(16 << 20);
        thread.spawn_scoped(scope, job).unwrap().join().unwrap();
    });
}

/// An invented shoot whose one link tunes `low_khz` to `high_khz` in 25 kHz steps.
fn shoot(site: &str, [low_khz, high_khz]: [u32; 2]) -> Box<Shoot> {
    let text = format!(
        r#"{{ "format": "spurless-shoot", "version": 1, "name": "invented", "site": {site}, "links": [
        {{ "label": "A", "windows": [{{ "low_hz": {low_khz}000, "high_hz": {high_khz}000, "step_hz": 25000 }}] }}] }}"#
    );
    read_shoot(&text).unwrap()
}

/// Where the link may be put.
fn open(site: &str, window: [u32; 2]) -> Vec<u32> {
    let shoot = shoot(site, window);
    let brief = shoot.brief().unwrap();
    let problem = brief.problem(None);
    let link = &problem.links[0];
    let carriers = (window[0]..=window[1]).step_by(25).map(Hertz::from_khz);
    carriers.filter(|&c| problem.spectrum.allows(c, link.bandwidth)).map(|c| c.hz() / 1_000).collect()
}

#[test]
fn what_is_closed_is_closed_to_a_plan_and_it_says_by_what_rule() {
    on_a_large_stack(|| {
        let steps = |ranges: &[[u32; 2]]| -> Vec<u32> {
            ranges.iter().flat_map(|&[low, high]| (low..=high).step_by(25)).collect()
        };
        // 608-614 radio astronomy, 616-652 mobile and its guard strip; the width of 200 kHz may touch an edge.
        let american = r#"{ "region": "united-states" }"#;
        assert_eq!(open(american, [606_000, 630_000]), steps(&[[606_000, 607_900], [614_100, 615_900]]));
        // A permit for both: its own rule for where one may be, and it opens the mobile part only.
        let lent = r#"{ "region": "united-states",
        "permits": [{ "low_hz": 606000000, "high_hz": 620000000, "why": "lent for the day" }] }"#;
        assert_eq!(open(lent, [606_000, 630_000]), steps(&[[606_100, 607_900], [614_100, 619_900]]));

        let shoot = shoot(american, [606_000, 630_000]);
        let brief = shoot.brief().unwrap();
        let mut reasons = Vec::new();
        why_not(&brief.problem(None), 0, Hertz::from_khz(612_400), &[], |reason| {
            reasons.push(reason.to_string());
        });
        assert_eq!(
            reasons,
            [
                "inside 608.000 to 614.000 MHz, closed by the rules here: radio astronomy; no permit here opens it \
          [47 CFR 73.603 (c), 2021-09-01]"
            ]
        );
    });
}

#[test]
fn no_loosening_offers_what_the_rules_close() {
    on_a_large_stack(|| {
        let shoot = shoot(r#"{ "region": "united-states" }"#, [609_000, 613_000]);
        let brief = shoot.brief().unwrap();
        let problem = brief.problem(None);
        let mut workspace = Workspace::for_problem(&problem);
        let mut planner = workspace.planner(problem, default_budget(1));
        planner.finish();
        let report = Report::of(&mut planner);
        assert_eq!(report.status, "infeasible");
        let offered: Vec<String> = report.relaxations.iter().map(ToString::to_string).collect();
        assert_eq!(offered, ["send one link by cable: A, or one that tunes like it"]);
    });
}
