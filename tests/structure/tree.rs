//! The files of the project, and what may lie at its top.

use std::path::{Path, PathBuf};
use std::process::Command;

/// Everything that belongs at the top; a new entry needs a reason, and a line here.
const TOP: [&str; 19] = [
    ".ci",
    ".clippy.toml",
    ".editorconfig",
    ".gitattributes",
    ".gitignore",
    ".rustfmt.toml",
    "CHANGELOG.md",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "core",
    "demo-data",
    "ffi",
    "tests",
    "wasm",
    "web-demo",
];

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

/// The names of all tracked files that are still there, from the root, with `/`.
pub(crate) fn tracked() -> Vec<String> {
    let list = Command::new("git").args(["ls-files", "-z"]).current_dir(root()).output();
    let list = list.expect("this test asks git for the list of files; install git");
    assert!(list.status.success(), "git ls-files: {}", String::from_utf8_lossy(&list.stderr));
    let names: Vec<String> = String::from_utf8(list.stdout)
        .unwrap()
        .split_terminator('\0')
        .filter(|name| root().join(name).is_file())
        .map(str::to_owned)
        .collect();
    assert!(names.len() > 20, "git lists only {} files", names.len());
    names
}

/// The Rust files of the core, as paths from `core/src`, with their text.
pub(crate) fn core_sources() -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut folders = vec![root().join("core/src")];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let name = path.strip_prefix(root().join("core/src")).unwrap().to_str().unwrap().to_owned();
                found.push((name, std::fs::read_to_string(path).unwrap()));
            }
        }
    }
    found.sort();
    assert!(found.iter().any(|(name, _)| name == "lib.rs"), "core/src/lib.rs was not found");
    found
}

fn strangers<'a>(files: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    files.into_iter().filter(|name| !TOP.contains(&name.split('/').next().unwrap())).collect()
}

#[test]
fn a_file_that_does_not_belong_at_the_top_is_seen() {
    assert_eq!(strangers(["core/src/lib.rs", "notes.txt", "docs/a.md"]), ["notes.txt", "docs/a.md"]);
}

#[test]
fn only_the_agreed_entries_lie_at_the_top() {
    let files = tracked();
    let found = strangers(files.iter().map(String::as_str));
    assert!(found.is_empty(), "move these below an agreed folder, or agree and extend TOP: {found:?}");
}
