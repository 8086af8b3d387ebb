// node run.mjs MODULE.wasm NATIVE [CARRIERS...]: the checker against enumeration in WebAssembly, beside the
// same on this machine's processor in the same run. Prints Markdown; fails if a ratio is less than half.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";

const [file, native, ...wanted] = process.argv.slice(2);
const sizes = wanted.length ? wanted.map(Number) : [8, 32, 64, 256, 1024];
const { instance } = await WebAssembly.instantiate(readFileSync(file), {});
const { prepare, hits } = instance.exports;
const SHORT_US = 3_000, LONG_US = 300_000, ENOUGH_US = 2_000_000;

const wall = () => performance.now() * 1e3;
const processor = () => { const { user, system } = process.cpuUsage(); return user + system; };

/** As `least` in clock.rs: by the clock where a run is short, else by the processor's own time. */
function least(way) {
  const begun = wall();
  let answer = hits(way, 1), best = Infinity;
  const once = wall() - begun;
  if (once < SHORT_US) {
    const runs = Math.min(10_000, Math.max(1, Math.floor(SHORT_US / once)));
    for (let i = 0; i < 200; i++) {
      const from = wall();
      answer = hits(way, runs);
      best = Math.min(best, (wall() - from) / runs);
    }
    return { answer, best };
  }
  for (let i = 0; i < 3 && !(i && best >= ENOUGH_US); i++) {
    const from = processor();
    let runs = 0, spent = 0;
    do { answer = hits(way, 1); runs++; spent = processor() - from; } while (spent < LONG_US);
    best = Math.min(best, spent / runs);
  }
  return { answer, best };
}

// The engine begins with quick, slow code and replaces it while it runs.
prepare(64);
for (const way of [0, 1, 2]) for (let i = 0; i < 300; i++) hits(way, 5);

const shown = (us) => us < 10_000 ? `${us.toFixed(2)} µs` : `${(us / 1e3).toFixed(1)} ms`;
console.log("| carriers | hits | wasm: enumeration | listed | counted | ratio, listed | counted | native: enumeration | listed | counted | ratio, listed | counted | wasm ratio / native, listed | counted |");
console.log("| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
let worst = Infinity;
for (const n of sizes) {
  const here = execFileSync(native, [String(n)], { encoding: "utf8" }).trim().split("\n").map((line) => line.split(" ").map(Number));
  prepare(n);
  const there = [0, 1, 2].map(least);
  const counts = new Set([...here.map(([count]) => count), ...there.map(({ answer }) => answer)]);
  if (counts.size !== 1) throw new Error(`${n} carriers: the counts of hits differ: ${[...counts]}`);
  const wasm = there.map(({ best }) => best), own = here.map(([, us]) => us);
  const ratios = (t) => [t[0] / t[1], t[0] / t[2]];
  const shares = ratios(wasm).map((r, i) => r / ratios(own)[i]);
  worst = Math.min(worst, ...shares);
  const cells = [n, [...counts][0], ...wasm.map(shown), ...ratios(wasm).map((r) => r.toFixed(1)),
    ...own.map(shown), ...ratios(own).map((r) => r.toFixed(1)), ...shares.map((s) => s.toFixed(2))];
  console.log(`| ${cells.join(" | ")} |`);
}
console.log(`\nThe least of the wasm ratios is ${worst.toFixed(2)} of the native one; 0.50 is the floor.`);
process.exitCode = worst < 0.5 ? 1 : 0;
