// Runs every *.test.mjs here, or those whose names are given: node run.mjs [NAME...]
// One file at a time: several browsers on two cores would only wait for each other.
import { spawnSync } from 'node:child_process';
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
const failed = files.filter((file) => {
  console.log(`\n${file}`);
  const result = spawnSync(process.execPath, ['--test-reporter=spec', file], { cwd: folder, stdio: 'inherit' });
  return result.status !== 0;
});
if (failed.length > 0) console.error(`run.mjs: failed: ${failed.join(', ')}`);
process.exit(failed.length > 0 ? 1 : 0);
