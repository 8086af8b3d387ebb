//! What the core may not contain, and what each of its modules must say.

use crate::code::{code_only, words};
use crate::tree::core_sources;

/// Words that the core's own code (tests apart) may not use: it runs without a heap and without a system.
const FORBIDDEN: [&str; 3] = ["unsafe", "std", "alloc"];

fn forbidden(file: &str, source: &str) -> Vec<String> {
    words(&code_only(source))
        .filter(|(_, word)| FORBIDDEN.contains(word))
        .map(|(line, word)| format!("core/src/{file}:{line}: `{word}`"))
        .collect()
}

/// The public modules that `source` declares in files of their own and without a doc comment on the line above.
fn undocumented_here(source: &str) -> Vec<String> {
    let lines: Vec<&str> = source.lines().map(str::trim).collect();
    let mut found = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let name = line.strip_prefix("pub mod ").and_then(|rest| rest.strip_suffix(';'));
        let documented =
            lines[..at].iter().rev().find(|l| !l.starts_with("#[")).is_some_and(|l| l.starts_with("///"));
        if let (Some(name), false) = (name, documented) {
            found.push(name.to_owned());
        }
    }
    found
}

/// Whether a module's own file opens with what it is about.
fn opens_with_a_doc(source: &str) -> bool {
    source.lines().find(|line| !line.trim().is_empty()).is_some_and(|line| line.starts_with("//! "))
}

#[test]
fn a_forbidden_word_is_seen_in_code_and_not_in_comments_or_tests() {
    assert_eq!(forbidden("x.rs", "// std\nuse std::fmt;\n"), ["core/src/x.rs:2: `std`"]);
    assert_eq!(forbidden("x.rs", "extern crate alloc;"), ["core/src/x.rs:1: `alloc`"]);
    assert_eq!(forbidden("x.rs", "fn f() { unsafe { g() } }"), ["core/src/x.rs:1: `unsafe`"]);
    assert!(
        forbidden("x.rs", "#![forbid(unsafe_code)]\n#[cfg(test)]\nmod tests { use std::vec; }").is_empty()
    );
}

#[test]
fn the_core_uses_no_unsafe_no_heap_and_no_system() {
    let found: Vec<_> = core_sources()
        .iter()
        .filter(|(file, _)| !file.ends_with("tests.rs"))
        .flat_map(|(file, source)| forbidden(file, source))
        .collect();
    assert!(found.is_empty(), "not in the core:\n{}", found.join("\n"));
}

#[test]
fn a_module_without_a_doc_is_seen() {
    assert_eq!(undocumented_here("/// Said.\npub mod a;\npub mod b;\nmod c;"), ["b"]);
    assert!(opens_with_a_doc("//! Said.\n"));
    assert!(!opens_with_a_doc("use x;\n//! Late.\n"));
}

#[test]
fn every_public_module_of_the_core_says_what_it_is_about() {
    let sources = core_sources();
    let mut silent = Vec::new();
    let mut seen = 0;
    for (file, source) in &sources {
        let folder = match file.rsplit_once('/') {
            _ if file == "lib.rs" => String::new(),
            Some((folder, "mod.rs")) => format!("{folder}/"),
            _ => format!("{}/", file.trim_end_matches(".rs")),
        };
        for name in undocumented_here(source) {
            seen += 1;
            let own = [format!("{folder}{name}.rs"), format!("{folder}{name}/mod.rs")];
            let documented =
                sources.iter().any(|(other, text)| own.contains(other) && opens_with_a_doc(text));
            if !documented {
                silent.push(format!("core/src/{folder}{name}"));
            }
        }
    }
    assert!(seen > 0, "no public module was found");
    assert!(silent.is_empty(), "open these with `//! What it is about.`: {silent:?}");
}
