//! Writes `include/spurless.h` from the source of `spurless-ffi`.
//!
//! `spurless-header FILE` writes it; `spurless-header --check FILE` compares instead, shows the first line
//! that differs and fails. What the header looks like is set in `ffi/cbindgen.toml`.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<_> = std::env::args_os().skip(1).collect();
    let (check, file) = match arguments.as_slice() {
        [option, file] if option == "--check" => (true, PathBuf::from(file)),
        [file] if !file.as_encoded_bytes().starts_with(b"-") => (false, PathBuf::from(file)),
        _ => {
            eprintln!("spurless-header: give FILE to write it, or --check FILE to compare it");
            return ExitCode::from(2);
        }
    };
    match run(check, &file) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("spurless-header: {}: {error}", file.display());
            ExitCode::FAILURE
        }
    }
}

fn run(check: bool, file: &Path) -> Result<(), Box<dyn Error>> {
    let wanted = header()?;
    if !check {
        if let Some(directory) = file.parent() {
            std::fs::create_dir_all(directory)?;
        }
        // An unchanged file keeps its time, so that nothing is compiled again for nothing.
        if std::fs::read_to_string(file).is_ok_and(|present| present == wanted) {
            return Ok(());
        }
        return Ok(std::fs::write(file, wanted)?);
    }
    let present = std::fs::read_to_string(file)?;
    if present == wanted {
        return Ok(());
    }
    Err(format!(
        "not what ffi/src says.\n{}  Remedy: tests/run header --write",
        first_difference(&present, &wanted)
    )
    .into())
}

/// The header as `ffi/src` has it now.
fn header() -> Result<String, Box<dyn Error>> {
    let ffi = Path::new(env!("CARGO_MANIFEST_DIR")).parent().ok_or("the folder ffi is missing")?;
    let settings = cbindgen::Config::from_file(ffi.join("cbindgen.toml"))?;
    let bindings = cbindgen::Builder::new().with_crate(ffi).with_config(settings).generate()?;
    let mut text = Vec::new();
    bindings.write(&mut text);
    Ok(String::from_utf8(text)?)
}

/// The first line where two texts part, as people read it.
fn first_difference(present: &str, wanted: &str) -> String {
    let (mut left, mut right) = (present.lines(), wanted.lines());
    for number in 1_u32.. {
        match (left.next(), right.next()) {
            (None, None) => break,
            (old, new) if old == new => {}
            (old, new) => {
                let line = |text: Option<&str>| text.unwrap_or("(the file ends here)").to_owned();
                return format!(
                    "  line {number} is:        {}\n  line {number} should be: {}\n",
                    line(old),
                    line(new)
                );
            }
        }
    }
    "  only the line ends differ\n".to_owned()
}
