//! Rust source without its comments, texts and tests: enough of a reader for the checks beside it.

/// `source` with comments, string and character literals replaced by blanks (lines stay lines), and without
/// what follows the first `#[cfg(test)]` before a `mod`: by our habit, tests close a file.
pub(crate) fn code_only(source: &str) -> String {
    let plain = without_texts(source);
    let mut lines = plain.lines().enumerate().peekable();
    let mut kept = String::new();
    while let Some((_, line)) = lines.next() {
        let opens_tests = lines.peek().is_some_and(|(_, next)| next.trim_start().starts_with("mod "));
        if line.trim() == "#[cfg(test)]" && opens_tests {
            break;
        }
        kept.push_str(line);
        kept.push('\n');
    }
    kept
}

fn without_texts(source: &str) -> String {
    let letters: Vec<char> = source.chars().collect();
    let mut out = String::with_capacity(source.len());
    let mut at = 0;
    while at < letters.len() {
        let length = text_length(&letters, at);
        if length == 0 {
            out.push(letters[at]);
            at += 1;
            continue;
        }
        out.extend(letters[at..at + length].iter().map(|&c| if c == '\n' { c } else { ' ' }));
        at += length;
    }
    out
}

/// How many characters from `at` are one comment or literal; 0 if none starts there.
fn text_length(letters: &[char], at: usize) -> usize {
    let rest = &letters[at..];
    let starts = |text: &str| text.chars().enumerate().all(|(i, c)| rest.get(i) == Some(&c));
    let named = at > 0 && (letters[at - 1].is_alphanumeric() || letters[at - 1] == '_');
    if starts("//") {
        return rest.iter().position(|&c| c == '\n').unwrap_or(rest.len());
    }
    if starts("/*") {
        return block_comment(rest);
    }
    if !named && (starts("r\"") || starts("r#") || starts("br\"") || starts("br#")) {
        let prefix = rest.iter().position(|&c| c == 'r').unwrap() + 1;
        let hashes = rest[prefix..].iter().take_while(|&&c| c == '#').count();
        if rest.get(prefix + hashes) == Some(&'"') {
            let close: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
            let body = prefix + hashes + 1;
            let end = rest[body..].windows(close.len()).position(|part| part == close);
            return end.map_or(rest.len(), |end| body + end + close.len());
        }
    }
    match rest[0] {
        '"' => quoted(rest, '"'),
        // A character, not a lifetime: 'a' or '\n'.
        '\'' if rest.get(1) == Some(&'\\') || rest.get(2) == Some(&'\'') => quoted(rest, '\''),
        _ => 0,
    }
}

fn block_comment(rest: &[char]) -> usize {
    let (mut depth, mut at) = (0, 0);
    while at < rest.len() {
        match (rest[at], rest.get(at + 1)) {
            ('/', Some('*')) => (depth, at) = (depth + 1, at + 2),
            ('*', Some('/')) => (depth, at) = (depth - 1, at + 2),
            _ => at += 1,
        }
        if depth == 0 {
            return at;
        }
    }
    rest.len()
}

fn quoted(rest: &[char], quote: char) -> usize {
    let mut at = 1;
    while at < rest.len() {
        match rest[at] {
            '\\' => at += 2,
            c if c == quote => return at + 1,
            _ => at += 1,
        }
    }
    rest.len()
}

/// The words (identifiers) of a piece of code with the number of their line, from 1.
pub(crate) fn words(code: &str) -> impl Iterator<Item = (usize, &str)> {
    code.lines().enumerate().flat_map(|(line, text)| {
        text.split(|c: char| !c.is_alphanumeric() && c != '_')
            .filter(|w| !w.is_empty())
            .map(move |w| (line + 1, w))
    })
}

#[test]
fn comments_texts_and_tests_are_blanked_and_the_rest_is_kept() {
    let source = "a /* std /* x */ alloc */ b // unsafe\n\"std::\\\" alloc\" 'x' '\\'' c<'d> r#\"un\"safe\"# e\n\
                  #[cfg(test)]\nuse f;\n#[cfg(test)]\nmod tests { g }\n";
    let code = code_only(source);
    let found: Vec<_> = words(&code).collect();
    assert_eq!(
        found,
        [(1, "a"), (1, "b"), (2, "c"), (2, "d"), (2, "e"), (3, "cfg"), (3, "test"), (4, "use"), (4, "f")]
    );
}
