//! The C programs do what the same work in Rust does.
//!
//! More compilers, sanitizers and Valgrind: `tests/support/c-programs`.

use std::ffi::OsStr;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

use spurless::intermod::{Carrier, Guards, naive};
use spurless::plan::{Link, Present, Problem, Rules, Size, Spectrum, Status, Sum, Unheard, Variation};
use spurless::raster::{Raster, Tuning};
use spurless::survey::{Cell, Survey, Verdict, cells_for, default_margin};
use spurless::sweep::Reading;
use spurless::units::{Hertz, Level};
use spurless_tests::files::read_shoot;
use spurless_tests::planning::Workspace;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap()
}

/// Where programs are built; beside it lies what Cargo builds.
fn folder() -> &'static Path {
    Path::new(env!("CARGO_TARGET_TMPDIR"))
}

fn run(command: &mut Command) -> Output {
    let output = command.output().unwrap_or_else(|error| panic!("{command:?}: {error}; install it"));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{command:?}: {}\n{said}", output.status);
    output
}

/// The static library, built once for all tests here.
fn library() -> &'static Path {
    static LIBRARY: OnceLock<PathBuf> = OnceLock::new();
    LIBRARY.get_or_init(|| {
        let target = folder().parent().unwrap();
        let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
        run(Command::new(cargo)
            .args(["build", "--quiet", "--package", "spurless-ffi", "--target-dir"])
            .arg(target)
            .current_dir(root()));
        target.join("debug/libspurless.a")
    })
}

/// Compiles a program of ours with every warning on and links it; its path.
fn program(source: &str) -> PathBuf {
    let library = library();
    let path = folder().join(Path::new(source).file_stem().unwrap());
    let compiler = std::env::var_os("CC").unwrap_or_else(|| "gcc".into());
    run(Command::new(compiler)
        .args([
            "-std=c99",
            "-Wall",
            "-Wextra",
            "-Wpedantic",
            "-Wconversion",
            "-Werror",
            "-Iffi/include",
            source,
        ])
        .arg(library)
        // What std asks of a Linux system; rustc --print native-static-libs says the same.
        .args(["-lgcc_s", "-lutil", "-lrt", "-lpthread", "-lm", "-ldl", "-o"])
        .arg(&path)
        .current_dir(root()));
    path
}

fn printed(program: &Path, arguments: impl IntoIterator<Item = impl AsRef<OsStr>>) -> String {
    String::from_utf8(run(Command::new(program).args(arguments)).stdout).unwrap()
}

/// Numbers that look random and are always the same.
struct Numbers(u32);

impl Numbers {
    fn below(&mut self, end: u32) -> u32 {
        // Source: D. E. Knuth, The Art of Computer Programming 2, 3.3.4, table 1, line 16 (from memory).
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) % end
    }
}

#[test]
fn c_plans_the_demo_shoot_as_rust_does() {
    // Reading a shoot takes more of a stack than a test's thread has.
    let roomy = std::thread::Builder::new().stack_size(16 << 20).spawn(demo_plan_in_rust).unwrap();
    assert_eq!(printed(&program("ffi/examples/plan.c"), [""; 0]), roomy.join().unwrap());
}

fn demo_plan_in_rust() -> String {
    let shoot = read_shoot(&std::fs::read_to_string(root().join("demo-data/shoot.json")).unwrap()).unwrap();
    let brief = shoot.brief().unwrap();
    let problem = brief.problem(None);
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, spurless::plan::DEFAULT_BUDGET);
    assert_eq!(planner.finish(), Status::Complete);
    let mut lines = String::new();
    for (index, link) in (0..).zip(brief.links()) {
        writeln!(lines, "{} {}", link.label, planner.carrier(index).unwrap().hz()).unwrap();
        let mut spares = [Hertz::ZERO; 2];
        let count = planner.spares(index, &mut spares);
        for spare in &spares[..count] {
            writeln!(lines, "spare {} {}", link.label, spare.hz()).unwrap();
        }
    }
    lines + "hits 0 breaches 0 barred 0\n"
}

#[test]
fn c_finds_the_hits_that_plain_enumeration_finds() {
    let program = program("ffi/examples/check.c");
    // 2 x 544.800 - 544.000 = 545.600 and its mirror image, by hand.
    let trap = "hit 2 x 544.800 - 544.000 = 545.600 on 545600000, 0 Hz off\n\
                hit 2 x 544.800 - 545.600 = 544.000 on 544000000, 0 Hz off\n\
                hits 2 breaches 0\n";
    assert_eq!(printed(&program, [""; 0]), trap);

    let guards = Guards::third_order(Hertz::new(75_000), Hertz::new(25_000));
    let mut numbers = Numbers(1);
    let mut hits: usize = 0;
    for round in 0..40 {
        let count = 1 + round % 9;
        let carriers: Vec<Carrier> = (0..count)
            .map(|_| {
                let frequency = Hertz::new(606_000_000 + 12_500 * numbers.below(320));
                if numbers.below(4) == 0 {
                    Carrier::foreign(frequency, true)
                } else {
                    Carrier::own(frequency)
                }
            })
            .collect();
        let arguments = carriers
            .iter()
            .map(|c| format!("{}{}", if c.is_own() { "" } else { "-" }, c.frequency.megahertz()));
        let mut expected = Vec::new();
        naive::each_hit(&carriers, &guards, |hit| {
            let at = |number: u16| carriers[usize::from(number)].frequency;
            let victim = at(hit.victim).hz();
            let sum = Sum { form: hit.form, sources: hit.sources.map(at) };
            let miss = hit.product_hz - i64::from(victim);
            expected.push(format!("hit {sum} on {victim}, {miss} Hz off"));
        });
        hits += expected.len();
        let mut breaches = 0;
        naive::each_breach(&carriers, Hertz::from_khz(400), |a, b| {
            breaches += 1;
            let at = |number: u16| carriers[usize::from(number)].frequency.hz();
            expected.push(format!("too close {} {}", at(a), at(b)));
        });
        let found_hits = naive::count(&carriers, &guards);
        expected.push(format!("hits {found_hits} breaches {breaches}"));
        expected.sort();
        let output = printed(&program, arguments);
        let mut found: Vec<&str> = output.lines().collect();
        found.sort_unstable();
        assert_eq!(found, expected, "round {round}");
    }
    assert!(hits > 100, "too few hits to tell anything: {hits}");
}

#[test]
fn c_hears_and_plans_what_rust_does() {
    let program = program("ffi/examples/survey.c");
    let khz = Hertz::from_khz;
    let grid = Raster::new(khz(606_000), khz(608_000), khz(25)).unwrap();
    let mut numbers = Numbers(2);
    let mut kinds = [0; 3];
    for round in 0..12_u32 {
        let floor = 605_900_000..(607_000_000 + 100_000 * round);
        let mut readings: Vec<Reading> = vec![Reading {
            low: Hertz::new(floor.start),
            high: Hertz::new(floor.end),
            level: Level::from_hundredths(-10_600),
        }];
        for _ in 0..6 {
            let low = 605_900_000 + numbers.below(2_000_000);
            let level = Level::from_hundredths(-10_500 + i64::from(numbers.below(4_000)));
            readings.push(Reading {
                low: Hertz::new(low),
                high: Hertz::new(low + 1 + numbers.below(60_000)),
                level,
            });
        }

        let mut cells = vec![Cell::EMPTY; cells_for(&grid)];
        let mut survey = Survey::new(grid, &mut cells).unwrap();
        readings.iter().for_each(|&reading| survey.add(reading));
        let view = survey.view();
        let mut expected = format!("floor {}\n", view.floor().unwrap().hundredths());
        for carrier in (0..81).map(|place| grid.at(place).unwrap()) {
            let (kind, word, level, over) = match view.verdict(carrier, khz(200), default_margin()) {
                Verdict::Unheard => (0, "unheard", 0, 0.0),
                Verdict::Quiet { level } => (1, "quiet", level.hundredths(), 0.0),
                Verdict::Busy { level, over, .. } => (2, "busy", level.hundredths(), over.value()),
            };
            kinds[kind] += 1;
            writeln!(expected, "{} {word} {level} {:.0}", carrier.hz(), over * 100.0).unwrap();
        }
        let link = Link {
            label: "",
            tuning: Tuning::new(&[grid]).unwrap(),
            bandwidth: khz(200),
            present: Present::Unset,
            spares: 0,
        };
        let links = [link.clone(), link.clone(), link];
        let problem = Problem {
            links: &links,
            foreign: &[],
            spectrum: Spectrum {
                survey: Some(view),
                margin: default_margin(),
                unheard: Unheard::Avoid,
                ..Spectrum::UNKNOWN
            },
            rules: Rules { spacing: khz(300), ..Rules::USUAL },
            variation: Variation::NONE,
        };
        let mut workspace = Workspace::for_problem(&problem);
        let mut planner = workspace.planner(problem, spurless::plan::DEFAULT_BUDGET);
        planner.finish();
        for carrier in (0..3).filter_map(|index| planner.carrier(index)) {
            writeln!(expected, "link {}", carrier.hz()).unwrap();
        }
        let arguments = readings.iter().flat_map(|r| {
            [r.low.hz().to_string(), r.high.hz().to_string(), r.level.hundredths().to_string()]
        });
        assert_eq!(printed(&program, arguments), expected, "round {round}");
    }
    assert!(kinds.iter().all(|&count| count > 20), "not every verdict came up: {kinds:?}");
}

#[test]
fn c_asks_for_no_less_memory_than_rust_needs() {
    let output = printed(&program("tests/surfaces/sizes.c"), [""; 0]);
    let window = |low, high, step| Raster::new(Hertz::new(low), Hertz::new(high), Hertz::new(step)).unwrap();
    let windows = [
        window(522_000_000, 564_000_000, 25_000),
        window(606_000_000, 608_000_000, 25_000),
        window(548_100_000, 572_100_000, 200_000),
        window(534_125_000, 557_875_000, 125_000),
    ];
    let mut lines = 0;
    for line in output.lines() {
        let numbers: Vec<usize> = line.split(' ').map(|word| word.parse().unwrap()).collect();
        let [count, spares, used, others, _, bytes] = numbers[..] else { panic!("{line}") };
        let links: Vec<Link<'_>> = (0..count)
            .map(|index| Link {
                label: "",
                tuning: Tuning::new(&[windows[index % used]]).unwrap(),
                bandwidth: Hertz::ZERO,
                present: Present::Unset,
                spares: u8::try_from(spares).unwrap(),
            })
            .collect();
        let foreign =
            vec![spurless::plan::Foreign { label: "", frequency: Hertz::ZERO, protected: false }; others];
        let problem = Problem {
            links: &links,
            foreign: &foreign,
            spectrum: Spectrum::UNKNOWN,
            rules: Rules::USUAL,
            variation: Variation::NONE,
        };
        let needed = Size::of(&problem).bytes() + size_of_val(&links[..]) + size_of_val(&foreign[..]);
        assert!(bytes >= needed, "{line}: Rust needs {needed}");
        lines += 1;
    }
    assert!(lines > 20, "{lines} problems");
}

#[test]
fn every_misuse_that_can_be_noticed_gets_a_status() {
    printed(&program("tests/surfaces/abuse.c"), [""; 0]);
}

#[test]
fn the_examples_are_clean_for_other_compilers_too() {
    let compilers: [(&str, &[&str]); 3] =
        [("clang", &["-std=c99"]), ("g++", &["-std=c++17", "-xc++"]), ("clang++", &["-std=c++17", "-xc++"])];
    for (compiler, language) in compilers {
        if Command::new(compiler).arg("--version").output().is_err() {
            assert!(std::env::var_os("CI").is_none(), "{compiler} is missing; install it");
            println!("skipped: {compiler} is missing");
            continue;
        }
        for source in ["ffi/examples/plan.c", "ffi/examples/check.c", "ffi/examples/survey.c"] {
            run(Command::new(compiler)
                .args(language)
                .args(["-Wall", "-Wextra", "-Wpedantic", "-Wconversion", "-Werror", "-Iffi/include"])
                .args(["-fsyntax-only", source])
                .current_dir(root()));
        }
    }
}

#[test]
fn a_status_that_is_ignored_is_a_warning() {
    let source = folder().join("ignored.c");
    let text = "#include \"spurless.h\"\nint main(void) { uint32_t hz; spurless_frequency_read(\"1\", 1, 0, &hz); return 0; }\n";
    std::fs::write(&source, text).unwrap();
    let output = Command::new("gcc")
        .args(["-std=c99", "-Werror", "-Iffi/include", "-c", "-o"])
        .arg(folder().join("ignored.o"))
        .arg(&source)
        .current_dir(root())
        .output()
        .unwrap();
    assert!(String::from_utf8_lossy(&output.stderr).contains("unused-result"), "{output:?}");
}
