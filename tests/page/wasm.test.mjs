// The module, in Node: what the page relies on, and that it plans what the terminal tool plans.
// Wants web-demo/dist (web-demo/build). SPURLESS_PKG names another folder that holds the module;
// SPURLESS_PLAN the terminal tool, which is built if it is not given.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { before, test } from 'node:test';
import { fileURLToPath, pathToFileURL } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const PKG = process.env.SPURLESS_PKG || join(ROOT, 'web-demo', 'dist', 'pkg');
const demo = join(ROOT, 'demo-data', 'shoot.json');
const sweep = join(ROOT, 'demo-data', 'sweep.csv');
const text = readFileSync(demo, 'utf8');

const spurless = await import(pathToFileURL(join(PKG, 'spurless_wasm.js')).href);
before(() => spurless.initSync({ module: readFileSync(join(PKG, 'spurless_wasm_bg.wasm')) }));

/** What the terminal says about the demo shoot. */
function terminal(...more) {
  const given = [demo, ...more];
  const tool = process.env.SPURLESS_PLAN;
  const [program, before_] = tool
    ? [tool, []]
    : ['cargo', ['run', '--quiet', '--release', '--package', 'spurless-tests', '--bin', 'plan', '--']];
  const done = spawnSync(program, [...before_, ...given], { cwd: ROOT, encoding: 'utf8' });
  assert.equal(done.status, 0, done.stderr);
  return JSON.parse(done.stdout);
}

/** Hears the demo sweep, in pieces of so many bytes. */
function listened(piece) {
  const air = new spurless.Air(text);
  const bytes = readFileSync(sweep);
  for (let at = 0; at < bytes.length; at += piece) air.feed(bytes.subarray(at, at + piece));
  air.endFile();
  return air;
}

/** Plans to the end, so many nodes at a time. */
function planned(air, nodes) {
  const plan = new spurless.Plan(text, air);
  while (plan.step(nodes).stage !== 'done');
  const report = plan.report();
  plan.free();
  return report;
}

const thrown = (call) => {
  try {
    call();
  } catch (error) {
    assert.ok(error instanceof Error, String(error));
    return error.message;
  }
  return assert.fail('nothing was thrown');
};

test('a plan on the page is the plan of the terminal, however it is cut into steps', () => {
  const expected = terminal();
  for (const nodes of [7, 1_000, 1e12]) assert.deepEqual(planned(undefined, nodes), expected);
});

test('so it is with what was heard, however the file is cut into pieces', () => {
  const expected = terminal('--sweep', sweep);
  for (const piece of [17, 65_536]) assert.deepEqual(planned(listened(piece), 1_000), expected);
});

test('why not there: the same sentences as the terminal', () => {
  const asked = ['L3=545.6', 'L1=529.5', 'L2=560.5', 'L4=541.55', 'L5=568.701', 'L1=612.4', 'L3=563.975', 'L4=522.3'];
  const told = terminal('--sweep', sweep, ...asked.flatMap((question) => ['--why', question]));
  const links = told.carriers.map((row) => row.label);
  const carriers = Uint32Array.from(told.carriers, (row) => row.carrier_hz);
  const air = listened(65_536);
  for (const { link, carrier_hz, reasons } of told.why) {
    const page = spurless.whyNot(text, air, links.indexOf(link), carrier_hz, carriers);
    assert.deepEqual(page, reasons, `${link} on ${carrier_hz}`);
  }
  const all = told.why.flatMap((why) => why.reasons).join('\n');
  // One of each kind at least, or nothing was compared.
  for (const kind of [/tunes/, /television channel 28/, /on the air here/, /not swept/, /not every end/, /lands/]) assert.match(all, kind);
});

test('a plan that is ended early has what was found so far, and stays ended', () => {
  const plan = new spurless.Plan(text, undefined);
  assert.notEqual(plan.step(2).stage, 'done');
  const report = plan.report();
  assert.equal(report.status, 'budget-spent');
  assert.equal(report.carriers.filter((row) => row.carrier_hz !== null).length, 2);
  assert.equal(report.found.hits + report.found.breaches + report.found.barred, 0);
  assert.equal(plan.step(1e9).stage, 'done');
  assert.deepEqual(plan.report(), report);
});

test('a budget may be either kind of number, and nothing else', () => {
  for (const budget of [1, 1n]) {
    const plan = new spurless.Plan(text, undefined, budget);
    plan.step(1e9);
    assert.equal(plan.report().status, 'budget-spent');
  }
  assert.match(thrown(() => new spurless.Plan(text, undefined, 'many')), /^budget: /);
});

test('the carrier that looks evenly spaced is refused with its arithmetic', () => {
  // 2 x 544.800 - 544.000 = 545.600, by hand.
  const carriers = Uint32Array.of(544_000_000, 544_800_000, 0, 0, 0, 0);
  const why = spurless.whyNot(text, undefined, 2, 545_600_000, carriers);
  assert.ok(why.some((line) => line.includes('2 x 544.800 - 544.000 = 545.600')), why.join('\n'));
  const { below_hz, above_hz } = spurless.nearestOpen(text, undefined, 2, 545_600_000, carriers);
  for (const hz of [below_hz, above_hz]) {
    assert.deepEqual(spurless.whyNot(text, undefined, 2, hz, carriers), []);
    // Every carrier between it and the wish has something against it.
    for (let at = Math.min(hz, 545_600_000) + 25_000; at < Math.max(hz, 545_600_000); at += 25_000) {
      assert.notDeepEqual(spurless.whyNot(text, undefined, 2, at, carriers), [], String(at));
    }
  }
  carriers[2] = 545_600_000;
  const hits = spurless.hits(text, carriers).map((hit) => [hit.product_hz, hit.victim, hit.sources.map((s) => s.label)]);
  assert.deepEqual(hits.find(([, victim]) => victim === 'L3'), [545_600_000, 'L3', ['L2', 'L1']]);
  const tick = spurless.products(text, carriers, 545_600_000, 545_600_000).find((p) => p.kind === '2A-B' && p.hit);
  assert.equal(tick?.nearest_hz, 0);
});

test('the picture of what is open says the same as the reasons', () => {
  const air = listened(65_536);
  const report = planned(air, 1e9);
  const carriers = Uint32Array.from(report.carriers, (row) => row.carrier_hz ?? 0);
  for (const link of [0, 4, 5]) {
    const [low, step, count] = [548_100_000, 25_000, 100];
    const columns = spurless.openSteps(text, air, link, carriers, low, low + step * count - 1, count);
    const open = [];
    for (let column = 0; column < count; column += 1) {
      const why = spurless.whyNot(text, air, link, low + step * column, carriers);
      if (why.length === 0) open.push(column);
      if (why.length === 0) assert.equal(columns[column], 3, `${link} ${column}`);
      if (columns[column] === 0) assert.match(why[0], /reach|set to/);
    }
    assert.equal(columns.length, count);
    assert.ok(open.length > 0 && columns.some((shade) => shade === 1), 'nothing was compared');
  }
});

test('a sweep is summed up and drawn, and bad lines are named', () => {
  const air = listened(65_536);
  const { lines_refused, readings, floor_db, cells, heard_cells, passes } = air.summary();
  // The file says of itself: two passes, floor -106 dB plus or minus 2.
  assert.equal(lines_refused, 0);
  assert.equal(passes, 2);
  assert.ok(readings > 5_000 && heard_cells === cells && Math.abs(floor_db + 106) <= 2, JSON.stringify(air.summary()));
  const trace = air.trace(500_000_000, 573_000_000, 730);
  assert.ok(Number.isNaN(trace.max[0]) && trace.heard[0] === 0, 'below the sweep nothing was heard');
  // 526 to 534 MHz: a multiplex at -62 dB in its 7.61 MHz.
  const inside = Math.round((530 - 500) * 10);
  assert.ok(trace.heard[inside] === 1 && Math.abs(trace.max[inside] + 62) < 4, String(trace.max[inside]));
  air.feed(new TextEncoder().encode('frequency_hz,level_dbm\n540000000,abc\n'));
  air.endFile();
  const after = air.summary();
  assert.equal(after.lines_refused, 1);
  assert.match(after.complaints[0], /^line 2, column "level": "abc" is not a number/);
  assert.match(thrown(() => new spurless.Air(text, { frequency: 'furlongs' })), /write Hz, kHz, MHz or GHz/);
});

test('a shoot says what both ends share, and what is lawful comes with its caution', () => {
  const view = spurless.checkShoot(text);
  assert.deepEqual(view.links.map((link) => link.label), ['L1', 'L2', 'L3', 'L4', 'L5', 'L6']);
  // 534.125 to 557.875 in steps of 125 kHz, all of them on the receiver's 25 kHz: 190 + 1.
  assert.deepEqual([view.links[5].carriers, view.links[5].receiver_carriers], [191, 1_681]);
  assert.deepEqual(view.span, { low_hz: 522_000_000, high_hz: 572_100_000 });
  assert.deepEqual(view.multiplexes[1], { channel: '28', low_hz: 526_000_000, high_hz: 534_000_000 });
  assert.match(view.caution, /licence/);
});

test('whatever is wrong with a shoot is told with its place and a remedy', () => {
  const message = (json) => thrown(() => spurless.checkShoot(json));
  assert.match(message(''), /^line 1, column 0/);
  assert.match(message('{}'), /"format": "spurless-shoot"/);
  assert.match(message(text.replace('"version": 1', '"version": 2')), /newer Spurless \(version 2/);
  assert.match(message(text.replace('"step_hz": 25000', '"step_hz": "25k"')), /^line \d+, column \d+, links\[0\]\.windows\[0\]\.step_hz: .*write whole hertz/);
  assert.match(message(text.replace('"spacing_hz"', '"spacing"')), /rules\.spacing: unknown field/);
  assert.match(message(text.replace('"channel": "28"', '"channel": "99"')), /^multiplex 2: /);
  assert.match(message(`${text} x`), /^line \d+, column \d+: trailing characters/);
  assert.match(thrown(() => spurless.whyNot(text, undefined, 6, 5e8, new Uint32Array(6))), /^link 6: /);
  assert.match(thrown(() => spurless.whyNot(text, undefined, 0, -1, new Uint32Array(6))), /^carrier: /);
  // The module is still there.
  assert.equal(spurless.checkShoot(text).links.length, 6);
});

test('the largest shoot fits', () => {
  const shoot = JSON.parse(text);
  delete shoot.cells;
  const [, , , two] = shoot.links;
  const transmitters = [0, 1, 2].map((k) => ({ ...two.transmitters[0], label: `pack ${k}`, windows: two.windows }));
  shoot.links = Array.from({ length: 256 }, (_, k) => ({ ...two, label: `L${k}`, spares: 0, transmitters }));
  shoot.site.foreign = Array.from({ length: 256 }, (_, k) => ({ label: `f${k}`, carrier_hz: 600_000_000 + k * 400_000 }));
  const json = JSON.stringify(shoot);
  assert.equal(spurless.checkShoot(json).links.length, 256);
  assert.equal(new spurless.Plan(json, undefined, 100).step(1).wanted, 256);
  shoot.links.push({ ...two, label: 'one too many' });
  assert.match(thrown(() => spurless.checkShoot(JSON.stringify(shoot))), /, links: .*at most 256/);
});

test('frequencies are read and written as people do', () => {
  assert.equal(spurless.parseFrequency(' 606,5 MHz'), 606_500_000);
  assert.equal(spurless.formatFrequency(606_012_500), '606.0125');
  assert.equal(spurless.formatOffset(-75_000), '75 kHz');
  assert.match(thrown(() => spurless.parseFrequency('606.5 furlongs')), /unit not known/);
  assert.match(thrown(() => spurless.formatFrequency(Number.NaN)), /not a whole number/);
});

test('the sheet holds what the plan holds', () => {
  const report = planned(undefined, 1e9);
  const sheet = spurless.sheet(text, JSON.stringify(report));
  assert.equal(sheet.title, 'Prize day at Tern Quay');
  assert.deepEqual(sheet.rows.map((row) => Math.round(Number(row.carrier) * 1e6)), report.carriers.map((row) => row.carrier_hz));
  assert.deepEqual(sheet.rows[3].transmitters, ['plug-on on the shotgun (plug-on, 30 mW)', 'spare pack (body-worn, 30 mW)']);
  assert.match(sheet.rows[3].caution, /only one/);
  assert.deepEqual(sheet.foreign[0], { label: 'house 1', carrier: '535.500' });
  assert.equal(sheet.lines[0], report.answer);
  assert.ok(sheet.cautions.some((line) => line.includes('licence')));
  const csv = spurless.sheetCsv(text, JSON.stringify(report)).split('\r\n');
  assert.equal(csv.length, 8);
  assert.ok(csv[6].startsWith(`L6,"roving presenter, to camera 2 right",${spurless.formatFrequency(report.carriers[5].carrier_hz)},`), csv[6]);
  assert.match(thrown(() => spurless.sheet(text, '{"answer": 1}')), /^line 1, column \d+, answer: /);
});
