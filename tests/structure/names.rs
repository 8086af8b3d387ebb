//! What no tracked file may name: package registries, and folders of the machine that it was written on.

use crate::tree::{root, tracked};

/// In pieces, so that this file does not name them either.
fn forbidden() -> Vec<String> {
    let hosts = [
        ["crates", "io"],
        ["npmjs", "org"],
        ["npmjs", "com"],
        ["yarnpkg", "com"],
        ["pypi", "org"],
        ["pythonhosted", "org"],
        ["debian", "org"],
        ["rust-lang", "org"],
    ];
    let folders = [["/wo", "rk/"], ["/ro", "ot/"], ["/ho", "me/"], ["../sha", "red"], ["/tmp", "/"]];
    hosts.iter().map(|parts| parts.join(".")).chain(folders.iter().map(|parts| parts.concat())).collect()
}

/// Cargo writes its index into every lock file; the form leaves no choice.
fn is_cargo_index(file: &str, line: &str) -> bool {
    file.ends_with("Cargo.lock") && line.starts_with("source = \"registry+")
}

fn named(file: &str, text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (number, line) in text.lines().enumerate() {
        for name in forbidden() {
            // A path counts only where it begins: `a/root/b` is somebody's relative path.
            let begins = |at: usize| {
                !name.starts_with('/')
                    || !line[..at].ends_with(|c: char| c.is_alphanumeric() || "_-.}>".contains(c))
            };
            if !is_cargo_index(file, line) && line.match_indices(&name).any(|(at, _)| begins(at)) {
                found.push(format!("{file}:{}: `{name}`", number + 1));
            }
        }
    }
    found
}

#[test]
fn a_registry_and_a_folder_of_this_machine_are_seen() {
    for name in forbidden() {
        assert_eq!(named("a.md", &format!("see {name}x")), [format!("a.md:1: `{name}`")]);
    }
    assert!(named("a.md", "web-demo/work/index.html").is_empty());
    let index = format!("source = \"registry+https://github.com/rust-lang/{}-index\"", forbidden()[0]);
    assert!(named("Cargo.lock", &index).is_empty());
    assert_eq!(named("a.toml", &index).len(), 1);
}

#[test]
fn no_file_names_a_registry_or_a_folder_of_this_machine() {
    let mut found = Vec::new();
    for file in tracked() {
        // Pictures and sounds name nothing.
        if let Ok(text) = std::fs::read_to_string(root().join(&file)) {
            found.extend(named(&file, &text));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}
