#!/usr/bin/env python3
"""Checks what the project's pages for people promise.

In every tracked *.md: links to files and pictures lead somewhere. In README.md, DEVELOPERS.md, ffi/README.md and
tests/README.md besides:
  ```rust     runs as a doctest against the core      ```c     compiles against the header, C99
  ```json     is JSON; a shoot is planned, complete    ```sh    commands of ours exist, cargo's are known
  ```console  `$ cargo run ...` prints what stands below it; a line `...` stands for any lines
A fence may say `text` to be left alone. Run by `tests/run readme`, which builds the core first.
"""

import json
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TARGET = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))
RUSTDOC = Path(os.environ.get("SPURLESS_HOST_RUST", "")) / "rustdoc"
EXAMPLES = ["README.md", "DEVELOPERS.md", "ffi/README.md", "tests/README.md"]
PLAN = "cargo run --release -p spurless-tests --bin plan -- "

problems = []
checked = 0


def wrong(page, line, what):
    problems.append(f"{page}:{line}: {what}")


def fences(text):
    """(language, line, body) of every fenced block."""
    for match in re.finditer(r"^```([a-z0-9_,]*)[^\n]*\n(.*?)^```", text, re.M | re.S):
        yield match[1].split(",")[0], text[: match.start()].count("\n") + 2, match[2]


def without_fences(text):
    return re.sub(r"^```.*?^```", lambda m: "\n" * m[0].count("\n"), text, flags=re.M | re.S)


def check_links(page, text):
    global checked
    for number, line in enumerate(without_fences(text).splitlines(), 1):
        for target in re.findall(r"\]\(([^)\s]+)\)|\bsrc=\"([^\"]+)\"", line):
            target = target[0] or target[1]
            checked += 1
            if re.match(r"[a-z]+:|#", target):
                continue
            if not (ROOT / page).parent.joinpath(target.split("#")[0]).exists():
                wrong(page, number, f"the link {target} leads nowhere")


def check_rust(page):
    library = TARGET / "debug" / "libspurless.rlib"
    command = [str(RUSTDOC) if RUSTDOC.is_file() else "rustdoc", "--test", str(ROOT / page), "--edition", "2024",
               "--extern", f"spurless={library}", "-L", f"dependency={TARGET / 'debug' / 'deps'}"]
    result = subprocess.run(command, capture_output=True, text=True)
    if result.returncode:
        wrong(page, 1, f"a Rust example fails:\n{result.stdout}{result.stderr}")


def check_c(page, line, body):
    if "spurless.h" not in body:
        body = '#include "spurless.h"\n' + body
    if not re.search(r"\w+\s*\([^;]*\)\s*\{", body):
        head = "\n".join(l for l in body.splitlines() if l.startswith("#include"))
        rest = "\n".join(l for l in body.splitlines() if not l.startswith("#include"))
        body = f"{head}\nint main(void) {{\n{rest}\nreturn 0;\n}}\n"
    with tempfile.NamedTemporaryFile("w", suffix=".c") as file:
        file.write(body)
        file.flush()
        command = ["cc", "-std=c99", "-Wall", "-Wextra", "-Wno-unused", "-Werror", "-fsyntax-only", f"-I{ROOT / 'ffi/include'}", file.name]
        result = subprocess.run(command, capture_output=True, text=True)
    if result.returncode:
        wrong(page, line, f"a C example does not compile:\n{result.stderr}")


def check_command(page, number, line):
    words = re.sub(r"^\$ ", "", line.strip()).split("#")[0].split()
    while words and re.fullmatch(r"[A-Z_]+=\S*", words[0]):
        words.pop(0)
    if not words:
        return
    command = words[0]
    if "/" in command:
        path = ROOT / command
        if not (path.is_file() and os.access(path, os.X_OK)):
            wrong(page, number, f"{command} is not a program of ours")
    if command == "tests/run":
        groups = subprocess.run([ROOT / "tests/run", "--list"], capture_output=True, text=True).stdout.split()
        for group in words[1:]:
            if not group.startswith("-") and group not in groups and not group.isupper():
                wrong(page, number, f"tests/run has no group {group}")
    if command == "cargo":
        for option, kind in (("--bin", "bin"), ("--example", "example"), ("-p", "package"), ("--package", "package")):
            if option in words:
                name = words[words.index(option) + 1]
                if (kind, name) not in known_to_cargo():
                    wrong(page, number, f"cargo knows no {kind} {name}")


def run(command):
    """What a command prints, and its exit code. Without optimisation: the same bits, sooner built."""
    environment = dict(os.environ, PATH=f"{RUSTDOC.parent}:{os.environ['PATH']}" if RUSTDOC.is_file() else os.environ["PATH"])
    command = command.replace("cargo run --release ", "cargo run ").replace("cargo run ", "cargo run --quiet ")
    result = subprocess.run(["bash", "-c", command], cwd=ROOT, env=environment, capture_output=True, text=True)
    return result.stdout, result.stderr, result.returncode


def check_console(page, line, body):
    commands = list(re.finditer(r"^\$ (.*)\n((?:(?!\$ ).*\n?)*)", body, re.M))
    if not commands:
        wrong(page, line, "nothing to run: a command begins with `$ `")
    for command, expected in (match.groups() for match in commands):
        if not command.startswith("cargo run "):
            wrong(page, line, f"only `cargo run` is run here, not {command}")
            continue
        check_command(page, line, command)
        printed, complaints, _ = run(command)
        clean = lambda text: "\n".join(row.rstrip() for row in text.strip().splitlines())
        pattern = re.escape(clean(expected)).replace(re.escape("\n...\n"), r"\n(?:.*\n)*?")
        if not re.fullmatch(pattern, clean(printed)):
            wrong(page, line, f"`{command}` prints otherwise:\n{printed}{complaints}")


def check_json(page, line, body):
    try:
        value = json.loads(body)
    except ValueError as error:
        wrong(page, line, f"not JSON: {error}")
        return
    if isinstance(value, dict) and value.get("format") == "spurless-shoot":
        with tempfile.NamedTemporaryFile("w", suffix=".json") as file:
            file.write(body)
            file.flush()
            printed, complaints, code = run(f"{PLAN}{file.name}")
        if code:
            wrong(page, line, f"this shoot cannot be planned, exit code {code}:\n{printed}{complaints}")


_known = set()


def known_to_cargo():
    if not _known:
        command = ["cargo", "metadata", "--no-deps", "--format-version", "1", "--offline"]
        data = json.loads(subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout)
        for package in data["packages"]:
            _known.add(("package", package["name"]))
            _known.update((kind, target["name"]) for target in package["targets"] for kind in target["kind"])
    return _known


def check_examples(page, text):
    global checked
    languages = set()
    for language, line, body in fences(text):
        languages.add(language)
        checked += 1
        if language == "c":
            check_c(page, line, body)
        elif language == "json":
            check_json(page, line, body)
        elif language == "console":
            check_console(page, line, body)
        elif language == "sh":
            for offset, command in enumerate(body.splitlines()):
                check_command(page, line + offset, command)
        elif language not in ("rust", "text", "toml", "cmake", "js"):
            wrong(page, line - 1, f"a fence says '{language}'; say rust, c, json, sh, console, toml, cmake, js or text")
    if "rust" in languages:
        check_rust(page)


def main():
    if not (ROOT / "README.md").is_file():
        sys.exit("readme: README.md is missing")
    pages = subprocess.run(["git", "ls-files", "*.md"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\n")
    for page in filter(None, pages):
        if (ROOT / page).is_file():
            text = (ROOT / page).read_text(encoding="utf-8")
            check_links(page, text)
            if page in EXAMPLES:
                check_examples(page, text)
    for problem in problems:
        print(problem, file=sys.stderr)
    print(f"readme: {checked} links and examples checked, {len(problems)} wrong", file=sys.stderr)
    sys.exit(1 if problems or not checked else 0)


if __name__ == "__main__":
    main()
