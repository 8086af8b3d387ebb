// Writes dist/spurless.html: the whole page in one file that any messenger carries and any browser opens
// from disk. Usage: node single.mjs DIST-FOLDER
//
// Scripts and styles are bundled into the page; everything that the page reads at run time (the module, the
// demo shoot, workers) lies in inert <script type="application/base64" data-file="NAME"> blocks, which
// files.js looks for. The content security policy is replaced by one that names the digests of what is inline.

import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { build } from '../tests/page/node_modules/esbuild/lib/main.js';

const dist = process.argv[2];
if (!dist || !existsSync(join(dist, 'index.html'))) {
  console.error('single.mjs: give the folder that web-demo/assemble.py filled');
  process.exit(2);
}

const stop = (why) => {
  console.error(`single.mjs: ${why}`);
  process.exit(1);
};

const TYPES = { svg: 'image/svg+xml', png: 'image/png', ico: 'image/x-icon' };

/** Bundles one entry and gives its text. */
async function bundle(entry, format) {
  const result = await build({
    entryPoints: [join(dist, entry)],
    bundle: true,
    write: false,
    minify: true,
    format,
    target: 'es2022',
    charset: 'utf8',
    legalComments: 'none',
    loader: { '.woff2': 'dataurl', '.svg': 'dataurl', '.png': 'dataurl' },
    logLevel: 'warning',
  }).catch(() => stop(`${entry} does not bundle, see above`));
  return result.outputFiles[0].text;
}

const dataBlock = (name, content) =>
  `<script type="application/base64" data-file="${name}">${Buffer.from(content).toString('base64')}</script>`;

const attribute = (tag, name) => tag.match(new RegExp(`\\b${name}\\s*=\\s*"([^"]*)"`))?.[1];

const local = (address) => address.replace(/^\.\//, '');

function dataAddress(address) {
  if (address.startsWith('data:')) return address;
  const type = TYPES[address.split('.').pop()] ?? stop(`do not know the type of ${address}`);
  return `data:${type};base64,${readFileSync(join(dist, local(address))).toString('base64')}`;
}

/** Replaces what refers to another file; gives the page and the scripts to put at its end. */
async function inline(page) {
  const styles = [];
  const scripts = [];
  page = page.replace(/<link\b[^>]*>\s*/g, (tag) => {
    const [kind, address] = [attribute(tag, 'rel'), attribute(tag, 'href')];
    if (kind === 'stylesheet') return `${styles.push(address) && `<style data-at="${styles.length - 1}"></style>`}\n`;
    if (kind?.includes('icon')) return tag.replace(address, dataAddress(address));
    // The rest (manifest, preloads) means nothing without a server.
    return '';
  });
  page = page.replace(/<script\b[^>]*\bsrc="([^"]*)"[^>]*><\/script>\s*/g, (_, address) => (scripts.push(address), ''));
  page = page.replace(/<img\b[^>]*>/g, (tag) => tag.replace(attribute(tag, 'src'), (address) => dataAddress(address)));
  for (const [at, address] of styles.entries()) {
    const text = await bundle(local(address));
    page = page.replace(`<style data-at="${at}"></style>`, () => `<style>${text}</style>`);
  }
  let end = '';
  // Inline modules run once the page is read, as the served ones do.
  for (const address of scripts) end += `<script type="module">${await bundle(local(address), 'esm')}</script>\n`;
  return page.includes('</body>') ? page.replace('</body>', () => `__FILES__${end}</body>`) : stop('index.html lacks </body>');
}

/** Every file that the page asks for at run time. */
async function files() {
  const blocks = [];
  for (const entry of readdirSync(dist, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const name = relative(dist, join(entry.parentPath ?? entry.path, entry.name)).replaceAll('\\', '/');
    if (name.startsWith('demo/') || name.endsWith('.wasm')) blocks.push(dataBlock(name, readFileSync(join(dist, name))));
    if (/^[^/]*(worker|worklet)\.js$/.test(name)) blocks.push(dataBlock(name, await bundle(name, 'iife')));
  }
  return `${blocks.join('\n')}\n`;
}

const digests = (page, pattern) =>
  [...page.matchAll(pattern)].map(([, text]) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`).join(' ');

function policy(page) {
  const scripts = digests(page, /<script(?![^>]*application\/base64)[^>]*>([\s\S]*?)<\/script>/g);
  const styles = digests(page, /<style[^>]*>([\s\S]*?)<\/style>/g);
  return [
    "default-src 'none'",
    // data: for workers and worklets, see files.js.
    `script-src 'wasm-unsafe-eval' data: ${scripts}`,
    'worker-src data:',
    `style-src ${styles || "'none'"}`,
    'img-src data: blob:',
    'media-src data: blob:',
    'font-src data:',
    "connect-src 'none'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

let page = await inline(readFileSync(join(dist, 'index.html'), 'utf8'));
const blocks = await files();
page = page.replace('__FILES__', () => blocks);
const meta = /<meta\s+http-equiv="Content-Security-Policy"[^>]*>/;
if (!meta.test(page)) stop('index.html lacks its <meta http-equiv="Content-Security-Policy" ...>');
page = page.replace(meta, () => `<meta http-equiv="Content-Security-Policy" content="${policy(page)}">`);
const left = page.replace(/<(script|style)\b[\s\S]*?<\/\1>/g, '').match(/\b(?:src|href)="(?!#|data:|mailto:|https:)[^"]*"/);
if (left) stop(`${left[0]} still points outside the single file`);

const out = join(dist, 'spurless.html');
if (!existsSync(out) || readFileSync(out, 'utf8') !== page) writeFileSync(out, page);
console.error(`spurless: spurless.html is ${Buffer.byteLength(page)} bytes`);
