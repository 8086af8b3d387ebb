#!/usr/bin/env python3
"""Serves a folder to this machine only: serve.py FOLDER [PORT]

Without PORT it takes 8417, or any free one if that is taken; with PORT 0 any free one. Prints the address
as the first line of stdout. Nothing is cached here: the page's own service worker does that.
"""

import errno
import sys
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

USUAL_PORT = 8417


class Handler(SimpleHTTPRequestHandler):
    # Browsers refuse a module with another type; the system's own table may be anything.
    extensions_map = {
        "": "application/octet-stream",
        ".css": "text/css; charset=utf-8",
        ".csv": "text/csv; charset=utf-8",
        ".html": "text/html; charset=utf-8",
        ".ico": "image/x-icon",
        ".js": "text/javascript; charset=utf-8",
        ".json": "application/json; charset=utf-8",
        ".png": "image/png",
        ".svg": "image/svg+xml",
        ".txt": "text/plain; charset=utf-8",
        ".wasm": "application/wasm",
        ".wav": "audio/wav",
        ".webmanifest": "application/manifest+json; charset=utf-8",
        ".woff2": "font/woff2",
    }

    def end_headers(self):
        self.send_header("Cache-Control", "no-cache")
        self.send_header("X-Content-Type-Options", "nosniff")
        super().end_headers()

    def list_directory(self, path):
        self.send_error(404, "Nothing here")

    def log_request(self, code="-", size="-"):
        if str(code) >= "400":
            super().log_request(code, size)


class Server(ThreadingHTTPServer):
    daemon_threads = True
    # Linux lets a second server share a port that is only half closed; a live one is still refused.
    allow_reuse_address = True


def listen(folder, port):
    return Server(("127.0.0.1", port), partial(Handler, directory=str(folder)))


def main():
    if not 2 <= len(sys.argv) <= 3:
        sys.exit("serve.py: give FOLDER and, if you like, PORT")
    folder = Path(sys.argv[1])
    if not (folder / "index.html").is_file():
        sys.exit(f"serve.py: {folder}/index.html is missing; run web-demo/build first")
    try:
        chosen = int(sys.argv[2]) if len(sys.argv) == 3 else None
    except ValueError:
        chosen = -1
    if chosen is not None and not 0 <= chosen <= 65535:
        sys.exit(f"serve.py: port {sys.argv[2]} is not a number from 0 to 65535; 0 takes any free one")
    try:
        server = listen(folder, USUAL_PORT if chosen is None else chosen)
    except OSError as error:
        if error.errno == errno.EADDRINUSE and chosen is None:
            print(f"port {USUAL_PORT} is taken, so another one", file=sys.stderr)
            server = listen(folder, 0)
        elif error.errno == errno.EADDRINUSE:
            sys.exit(f"serve.py: port {chosen} is taken; give another with --port, 0 takes any free one")
        elif error.errno == errno.EACCES:
            sys.exit(f"serve.py: port {chosen} needs more rights; take one above 1023, 0 takes any free one")
        else:
            raise
    with server:
        print(f"http://127.0.0.1:{server.server_address[1]}/", flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print("stopped", file=sys.stderr)


if __name__ == "__main__":
    main()
