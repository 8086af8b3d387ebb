//! Which module of the core may use which: upwards only.

use crate::code::code_only;
use crate::tree::core_sources;

/// Every module may use these, in this order among themselves.
const GROUND: [&str; 5] = ["maths", "text", "source", "units", "bounds"];

/// What each module may use beside the ground. Source: DEVELOPERS.md, "The layers".
const TABLE: [(&str, &[&str]); 18] = [
    ("raster", &[]),
    ("television", &["raster"]),
    ("rules", &[]),
    ("intermod", &[]),
    ("sweep", &[]),
    ("survey", &["raster", "television", "sweep"]),
    ("plan", &["raster", "television", "rules", "intermod", "survey"]),
    ("preset", &["raster", "television", "rules", "intermod", "survey", "plan"]),
    // They know nothing of spectrum: `reach` takes a floor in dBm, not a survey.
    ("chain", &[]),
    ("reach", &[]),
    ("battery", &[]),
    ("trim", &["chain"]),
    ("take", &["trim", "chain"]),
    ("pairing", &[]),
    ("trouble", &["rules", "plan", "trim", "reach", "battery", "take", "pairing"]),
    ("shoot", &ALL),
    ("sheet", &ALL_AND_SHOOT),
    ("lib", &["shoot", "sheet"]),
];

const ALL: [&str; 15] = [
    "raster",
    "television",
    "rules",
    "intermod",
    "sweep",
    "survey",
    "plan",
    "preset",
    "chain",
    "reach",
    "battery",
    "trim",
    "take",
    "pairing",
    "trouble",
];

const ALL_AND_SHOOT: [&str; 16] = [
    "raster",
    "television",
    "rules",
    "intermod",
    "sweep",
    "survey",
    "plan",
    "preset",
    "chain",
    "reach",
    "battery",
    "trim",
    "take",
    "pairing",
    "trouble",
    "shoot",
];

fn module_of(file: &str) -> &str {
    file.split('/').next().unwrap().trim_end_matches(".rs")
}

fn allowed(from: &str, to: &str) -> bool {
    let place = |name| GROUND.iter().position(|&ground| ground == name);
    match (place(from), place(to)) {
        _ if from == to => true,
        // `maths`, `text` and `source` stand side by side; `units`, then `bounds`, stand on them.
        (Some(from), Some(to)) => to < from.max(3) && from >= 3,
        (None, Some(_)) => true,
        _ => TABLE.iter().any(|(module, may_use)| *module == from && may_use.contains(&to)),
    }
}

/// The modules of the crate that a file names, with their line: `crate::a::b`, `crate::{a, b::c}`, and as
/// many `super::` as lead to the top.
fn edges(file: &str, source: &str) -> Vec<(usize, String)> {
    let code = code_only(source);
    let depth = file.split('/').count() - usize::from(file.ends_with("/mod.rs") || file == "lib.rs");
    let to_top = "super::".repeat(depth.max(1));
    let mut found = Vec::new();
    for root in ["crate::", &to_top] {
        for (at, _) in code.match_indices(root) {
            let before = code[..at].chars().next_back();
            if before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':' || c == '$') {
                continue;
            }
            let line = code[..at].matches('\n').count() + 1;
            let rest = &code[at + root.len()..];
            found.extend(first_names(rest).into_iter().map(|name| (line, name)));
        }
    }
    // `super::x` may also name an item of the parent; what is no module of ours is none of our business.
    let known = |name: &str| GROUND.contains(&name) || TABLE.iter().any(|(module, _)| *module == name);
    found.retain(|(_, name)| known(name));
    found
}

/// The first name of each path in `a::b`, or in `{a::b, c::{d, e}, f}`.
fn first_names(rest: &str) -> Vec<String> {
    let name =
        |text: &str| text.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>();
    let Some(list) = rest.strip_prefix('{') else { return vec![name(rest)] };
    let (mut depth, mut start, mut names) = (0, 0, Vec::new());
    for (at, letter) in list.char_indices() {
        match letter {
            '{' => depth += 1,
            '}' | ',' if depth == 0 => {
                names.push(name(&list[start..at]));
                start = at + 1;
                if letter == '}' {
                    break;
                }
            }
            '}' => depth -= 1,
            _ => {}
        }
    }
    names
}

fn wrong_edges(file: &str, source: &str) -> Vec<String> {
    edges(file, source)
        .into_iter()
        .filter(|(_, to)| !allowed(module_of(file), to))
        .map(|(line, to)| format!("core/src/{file}:{line}: `{}` may not use `{to}`", module_of(file)))
        .collect()
}

#[test]
fn a_wrong_edge_is_seen_however_it_is_written() {
    let seen = |file: &str, source: &str| wrong_edges(file, source).len();
    assert_eq!(seen("raster.rs", "use crate::plan::Problem;"), 1);
    assert_eq!(seen("raster.rs", "use crate::{units::{Hertz, Dbm}, plan, text};"), 1);
    assert_eq!(seen("raster.rs", "fn f() -> crate::shoot::Shoot {}"), 1);
    assert_eq!(seen("reach/budget.rs", "use super::super::survey::Survey;"), 1);
    assert_eq!(seen("reach/mod.rs", "use super::survey::Survey;"), 1);
    assert_eq!(seen("units/mod.rs", "use crate::bounds::Bound;"), 1);
    assert_eq!(seen("text.rs", "use crate::maths::log10;"), 1);
    assert_eq!(seen("newcomer.rs", "use crate::raster::Raster;"), 1);
    assert_eq!(
        seen(
            "raster.rs",
            "// crate::plan\nuse crate::units::Hertz;\n#[cfg(test)]\nmod tests { use crate::plan; }"
        ),
        0
    );
    assert_eq!(seen("plan/search.rs", "use super::domain::Domain; use crate::intermod::Kind;"), 0);
    assert_eq!(seen("bounds.rs", "use crate::units::Hertz;"), 0);
}

#[test]
fn no_module_of_the_core_uses_what_stands_below_it() {
    let sources = core_sources();
    let all: usize = sources.iter().map(|(file, source)| edges(file, source).len()).sum();
    assert!(all > 5, "only {all} uses were found: the reader is broken");
    let wrong: Vec<_> = sources.iter().flat_map(|(file, source)| wrong_edges(file, source)).collect();
    assert!(wrong.is_empty(), "move the code, or change the table with its reason:\n{}", wrong.join("\n"));
}

#[test]
fn every_module_of_the_core_has_its_place_in_the_table() {
    let placed = |name: &str| GROUND.contains(&name) || TABLE.iter().any(|(module, _)| *module == name);
    let sources = core_sources();
    let missing: Vec<_> =
        sources.iter().map(|(file, _)| module_of(file)).filter(|name| !placed(name)).collect();
    assert!(missing.is_empty(), "give these a place in TABLE: {missing:?}");
}
