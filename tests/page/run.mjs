// Runs every *.test.mjs here, or those whose names are given: node run.mjs [NAME...]
import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const folder = fileURLToPath(new URL('.', import.meta.url));
const wanted = process.argv.slice(2);
const files = readdirSync(folder).filter(
  (name) => name.endsWith('.test.mjs') && (wanted.length === 0 || wanted.some((part) => name.startsWith(part))),
);
if (files.length === 0) {
  console.error(`run.mjs: no *.test.mjs here starts with ${wanted.join(' or ') || 'anything'}`);
  process.exit(2);
}
// Two files at a time, one a core; what each prints is kept together.
const waiting = [...files];
const failed = [];
async function work() {
  for (let file = waiting.shift(); file !== undefined; file = waiting.shift()) {
    const said = [];
    const child = spawn(process.execPath, ['--test-reporter=spec', file], { cwd: folder });
    child.stdout.on('data', (part) => said.push(part));
    child.stderr.on('data', (part) => said.push(part));
    const status = await new Promise((done) => child.on('close', done).on('error', () => done(1)));
    console.log(`\n${file}\n${Buffer.concat(said).toString()}`);
    if (status !== 0) failed.push(file);
  }
}
await Promise.all([work(), work()]);
if (failed.length > 0) console.error(`run.mjs: failed: ${failed.join(', ')}`);
process.exitCode = failed.length > 0 ? 1 : 0;
