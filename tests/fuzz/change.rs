//! Inputs changed by chance.

use spurless_tests::speech::Chance;

/// Numbers and bytes at which things break.
const EDGES: [&str; 16] = [
    "0",
    "1",
    "-1",
    "127",
    "128",
    "255",
    "256",
    "32767",
    "32768",
    "65535",
    "65536",
    "2147483648",
    "4294967295",
    "4294967296",
    "9223372036854775807",
    "1e308",
];

/// One of the pool with one to eight changes.
pub(crate) fn changed(pool: &[Vec<u8>], words: &[&str], longest: usize, chance: &mut Chance) -> Vec<u8> {
    let mut input = pool[chance.place(pool.len())].clone();
    for _ in 0..=chance.place(8) {
        let at = chance.place(input.len() + 1);
        // Short stretches mostly, long ones now and then.
        let most = [2, 8, 64][chance.place(3)];
        let length = 1 + chance.place(most);
        let end = (at + length).min(input.len());
        match chance.place(10) {
            0 => _ = input.drain(at..end),
            1 => {
                let again = input[at..end].to_vec();
                put(&mut input, at, &again);
            }
            2 if at < input.len() => input[at] ^= 1 << chance.place(8),
            3 if at < input.len() => input[at] = chance.place(256) as u8,
            4 => put(&mut input, at, &[chance.place(256) as u8]),
            5 if !words.is_empty() => put(&mut input, at, words[chance.place(words.len())].as_bytes()),
            6 => put(&mut input, at, EDGES[chance.place(EDGES.len())].as_bytes()),
            7 => {
                // A number in place of the number there.
                let digit = |byte: &u8| byte.is_ascii_digit();
                let from = input[at..].iter().position(digit).map_or(at, |skip| at + skip);
                let to = input[from..].iter().position(|byte| !digit(byte)).map_or(input.len(), |n| from + n);
                let number = EDGES[chance.place(EDGES.len())];
                _ = input.splice(from..to, number.bytes());
            }
            8 => {
                // The end of another input.
                let other = &pool[chance.place(pool.len())];
                let from = chance.place(other.len() + 1);
                input.truncate(at);
                input.extend_from_slice(&other[from..]);
            }
            _ => {
                let to = chance.place(input.len() + 1);
                let moved: Vec<u8> = input.drain(at..end).collect();
                let to = to.min(input.len());
                put(&mut input, to, &moved);
            }
        }
    }
    input.truncate(longest);
    input
}

fn put(input: &mut Vec<u8>, at: usize, bytes: &[u8]) {
    _ = input.splice(at..at, bytes.iter().copied());
}
