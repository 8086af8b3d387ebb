#!/usr/bin/env python3
"""Puts the page together: assemble.py PKG-FOLDER DIST-FOLDER

Copies what the page needs from web-demo, the module from PKG-FOLDER (to ./pkg) and the demo shoot from
demo-data (to ./demo) into DIST-FOLDER, writes only what changed and removes what no longer belongs.

In sw.js the text __VERSION__ becomes a digest of all other files, and the list ["__FILES__"] becomes their
names: nobody has to remember to raise a number, and no changed file is ever served from an old cache.
"""

import hashlib
import json
import sys
from pathlib import Path

PAGE = Path(__file__).resolve().parent
DEMO = PAGE.parent / "demo-data"
# The single file is made from dist, so it is neither a source nor stale.
SINGLE = "spurless.html"
# What ends like this belongs to the page; scripts and notes of the folder do not.
ENDINGS = {".html", ".css", ".js", ".json", ".webmanifest", ".svg", ".png", ".ico", ".csv", ".wav", ".woff2", ".txt"}


def belongs(path):
    parts = path.relative_to(PAGE).parts
    return path.is_file() and path.suffix in ENDINGS and parts[0] not in {"dist", "screenshots"} and not any(p.startswith(".") for p in parts)


def collect(pkg):
    files = {p.relative_to(PAGE).as_posix(): p.read_bytes() for p in sorted(PAGE.rglob("*")) if belongs(p)}
    if "index.html" not in files:
        sys.exit("assemble.py: web-demo/index.html is missing; it is the page itself")
    for name in ("spurless_wasm.js", "spurless_wasm_bg.wasm"):
        files[f"pkg/{name}"] = (pkg / name).read_bytes()
    for path in sorted(DEMO.glob("*")):
        if path.suffix in {".json", ".csv"}:
            files[f"demo/{path.name}"] = path.read_bytes()
    return files


def fill_worker(files):
    worker = files.pop("sw.js", None)
    if worker is None:
        return
    digest = hashlib.sha256(worker)
    for name in sorted(files):
        digest.update(name.encode() + b"\0" + hashlib.sha256(files[name]).digest())
    text = worker.decode()
    for token in ("__VERSION__", '["__FILES__"]'):
        if token not in text:
            sys.exit(f"assemble.py: web-demo/sw.js does not hold {token}; without it an old page would stay in the cache")
    text = text.replace("__VERSION__", digest.hexdigest()[:16])
    files["sw.js"] = text.replace('["__FILES__"]', json.dumps(sorted(files))).encode()


def write(files, dist):
    changed = 0
    for name, content in files.items():
        path = dist / name
        if not path.is_file() or path.read_bytes() != content:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
            changed += 1
    for path in sorted(dist.rglob("*"), reverse=True):
        name = path.relative_to(dist).as_posix()
        if path.is_file() and name not in files and name != SINGLE:
            path.unlink()
            changed += 1
        elif path.is_dir() and not any(path.iterdir()):
            path.rmdir()
    return changed


def main():
    if len(sys.argv) != 3:
        sys.exit("assemble.py: give two folders: PKG DIST")
    pkg, dist = map(Path, sys.argv[1:])
    files = collect(pkg)
    fill_worker(files)
    dist.mkdir(parents=True, exist_ok=True)
    changed = write(files, dist)
    print(f"spurless: {dist.name}/ holds {len(files)} files, {changed} changed", file=sys.stderr)


if __name__ == "__main__":
    main()
