//! Writes the JavaScript and TypeScript side of `spurless-wasm`.
//!
//! `spurless-bindgen INPUT.wasm OUTPUT-DIRECTORY`
//!
//! Writes `NAME.js`, `NAME.d.ts`, `NAME_bg.wasm` and `NAME_bg.wasm.d.ts`, where NAME is that of the input.
//! A program of our own, because the command-line tool of the same library is not installed everywhere,
//! takes minutes to build, and its own lock file does not always resolve. Ours is pinned by our lock file,
//! so the glue always fits the `wasm-bindgen` crate that the module was built with.

use std::error::Error;
use std::path::Path;
use std::process::ExitCode;

use wasm_bindgen_cli_support::Bindgen;

fn main() -> ExitCode {
    let arguments: Vec<_> = std::env::args_os().skip(1).collect();
    let [input, output] = arguments.as_slice() else {
        eprintln!("spurless-bindgen: give two arguments: INPUT.wasm OUTPUT-DIRECTORY");
        return ExitCode::from(2);
    };
    let (input, output) = (Path::new(input), Path::new(output));
    match translate(input, output) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("spurless-bindgen: {} to {}: {error}", input.display(), output.display());
            let mut cause = error.source();
            while let Some(inner) = cause {
                eprintln!("  because: {inner}");
                cause = inner.source();
            }
            eprintln!(
                "  If it speaks of a schema, rebuild both: the pins in Cargo.toml must be one version."
            );
            ExitCode::FAILURE
        }
    }
}

fn translate(input: &Path, output: &Path) -> Result<(), Box<dyn Error>> {
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(input)
        .web(true)?
        .typescript(true)
        // The caller says where the module is: a page that is one file has no address to guess it from.
        .omit_default_module_path(true)
        // Nobody on a phone reads them, and they are a third of the module.
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate(output)?;
    Ok(())
}
