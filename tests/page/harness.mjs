// What every page test stands on: Chromium at phone size, a server of web-demo/dist on loopback, no network.
//
//   const page = await openPage();              the served page, 390 x 844, touch
//   const page = await openSingleFile();        the one-file page over file://
//   await page.goOffline(); await page.reload() as if the operator had walked away from any network
//   page.complaints                             console errors, uncaught errors, refused or foreign requests
//
// Everything opened is closed by closeAll(), which `after()` calls by itself.

import { createServer } from 'node:http';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { after } from 'node:test';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));
export const DIST = join(ROOT, 'web-demo', 'dist');
/** A phone held upright. */
export const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 3, isMobile: true, hasTouch: true };

const BROWSER = process.env.SPURLESS_CHROMIUM || '/usr/bin/chromium';
/** Nothing but the page may speak to anybody. */
const QUIET = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--disable-default-apps', '--disable-domain-reliability',
];
const TYPES = {
  '.css': 'text/css; charset=utf-8', '.csv': 'text/csv; charset=utf-8', '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8', '.json': 'application/json', '.png': 'image/png', '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm', '.wav': 'audio/wav', '.webmanifest': 'application/manifest+json',
};

const open = new Set();

/** Closes browsers and servers. */
export async function closeAll() {
  for (const thing of [...open].reverse()) await thing();
  open.clear();
}
after(closeAll);

/** Serves a folder on a free port of 127.0.0.1.
 * @returns {Promise<{address: string, requests: string[], stop: () => Promise<void>}>} */
export async function serve(folder = DIST) {
  const requests = [];
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url, 'http://localhost').pathname);
    requests.push(path);
    const file = join(folder, normalize(path.endsWith('/') ? `${path}index.html` : path));
    if (!file.startsWith(folder) || !existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, {
      'Content-Type': TYPES[extname(file)] ?? 'application/octet-stream',
      'Cache-Control': 'no-cache',
      'X-Content-Type-Options': 'nosniff',
    });
    response.end(readFileSync(file));
  });
  await new Promise((done, failed) => server.once('error', failed).listen(0, '127.0.0.1', done));
  const stop = () => new Promise((done) => {
    if (!server.listening) return done();
    server.close(done);
    server.closeAllConnections();
  });
  open.add(stop);
  return { address: `http://127.0.0.1:${server.address().port}/`, requests, stop };
}

/** Starts Chromium. `microphone`: a WAV file that stands in for the microphone. */
export async function browser({ microphone } = {}) {
  if (!existsSync(BROWSER)) throw new Error(`${BROWSER} is missing: install chromium, or set SPURLESS_CHROMIUM`);
  const listen = microphone
    ? ['--use-fake-ui-for-media-stream', '--use-fake-device-for-media-stream', `--use-file-for-fake-audio-capture=${microphone}`]
    : [];
  const started = await chromium.launch({ executablePath: BROWSER, args: [...QUIET, ...listen] });
  open.add(() => started.close());
  return started;
}

let shared;

/** One page in a fresh context (own storage, own service worker). Takes Playwright's context options, and
 * `microphone`, `script` (runs before the page's own) and `path`. */
async function openAt(address, { microphone, script, ...options } = {}) {
  const started = microphone ? await browser({ microphone }) : await (shared ??= browser());
  const context = await started.newContext({ ...PHONE, permissions: microphone ? ['microphone'] : [], ...options });
  const page = await context.newPage();
  const own = new URL(address).origin;
  page.complaints = [];
  page.on('console', (message) => message.type() === 'error' && page.complaints.push(`console: ${message.text()}`));
  page.on('pageerror', (error) => page.complaints.push(`uncaught: ${error.message}`));
  context.on('request', (request) => {
    const asked = new URL(request.url());
    if (['http:', 'https:', 'ws:', 'wss:'].includes(asked.protocol) && asked.origin !== own) page.complaints.push(`request to ${asked}`);
  });
  context.on('requestfailed', (request) => page.complaints.push(`failed: ${request.url()} ${request.failure()?.errorText}`));
  context.on('response', (answer) => answer.status() >= 400 && page.complaints.push(`${answer.status()}: ${answer.url()}`));
  if (script) await page.addInitScript(script);
  await page.goto(address, { waitUntil: 'load' });
  return page;
}

/** The served page. `page.goOffline()` stops its server as well as its network. */
export async function openPage({ path = '', ...options } = {}) {
  const server = await serve();
  const page = await openAt(server.address + path, options);
  page.server = server;
  page.goOffline = async () => {
    await server.stop();
    await page.context().setOffline(true);
  };
  return page;
}

/** The one-file page, from disk, with the network off from the start. */
export async function openSingleFile(options = {}) {
  return openAt(pathToFileURL(join(DIST, 'spurless.html')).href, { offline: true, ...options });
}

/** Slows the processor down `rate` times: to see that the page stays usable, not to time it. */
export async function slowDown(page, rate = 4) {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate });
}

/** Until the service worker holds the page, so that a reload needs no server. */
export const readyOffline = (page) =>
  page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller) {
      await new Promise((done) => navigator.serviceWorker.addEventListener('controllerchange', done, { once: true }));
    }
  });

/** What an accessibility engine (axe-core, W3C WCAG 2.2 rules A and AA) finds: one line per finding. */
export async function accessibilityFindings(page) {
  const engine = readFileSync(fileURLToPath(new URL('node_modules/axe-core/axe.min.js', import.meta.url)), 'utf8');
  // The page's own policy refuses foreign scripts; the driver's evaluate is not bound by it.
  await page.evaluate(engine);
  const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
  const { violations } = await page.evaluate((values) => globalThis.axe.run({ runOnly: { type: 'tag', values } }), tags);
  return violations.flatMap((finding) => finding.nodes.map((node) => `${finding.id}: ${node.target} ${node.failureSummary}`));
}
