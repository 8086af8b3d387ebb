// @ts-check
// The picture itself. Everything is told by shape and word; colour only helps.

import { formatFrequency } from '../pkg/spurless_wasm.js';
import { s } from './dom.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {{ low: number, high: number, what: string, whose: string }} Place */

/** Everything that has a place in the spectrum, from the bottom up. @param {Page} page @returns {Place[]} */
export function placeOf(page) {
  const { view, air } = page;
  const report = page.report();
  const at = (/** @type {number} */ hz, /** @type {string} */ what, /** @type {string} */ whose) => ({ low: hz, high: hz, what, whose });
  const all = [
    ...view.multiplexes.map((/** @type {any} */ one) => ({ low: one.low_hz, high: one.high_hz, what: 'multiplex', whose: `channel ${one.channel}` })),
    ...view.blocked.map((/** @type {any} */ one) => ({ low: one.low_hz, high: one.high_hz, what: 'closed', whose: one.why })),
    ...air.unheard.map(([low, high]) => ({ low, high, what: 'not heard', whose: 'unknown' })),
    ...view.foreign.map((/** @type {any} */ one) => at(one.carrier_hz, 'foreign carrier', one.label)),
    ...page.carriers().flatMap((hz, link) => (hz ? [at(hz, 'carrier', view.links[link].label)] : [])),
    ...(report?.carriers ?? []).flatMap((/** @type {any} */ row) => row.spares.map((/** @type {number} */ hz) => at(hz, 'spare', row.label))),
  ];
  return all.sort((a, b) => a.low - b.low || a.high - b.high);
}

/** Stretches of equal values. @param {ArrayLike<number>} values @returns {[number, number, number][]} from, to (without), value */
function runs(values) {
  /** @type {[number, number, number][]} */
  const list = [];
  for (let from = 0, to = 0; from < values.length; from = to) {
    for (to = from + 1; to < values.length && values[to] === values[from]; to += 1);
    list.push([from, to, /** @type {number} */ (values[from])]);
  }
  return list;
}

/** @param {{ page: Page, low: number, high: number, carrier: number | null, data: any, width: number }} given */
export function drawing({ page, low, high, carrier, data, width }) {
  // Text grows with the reader's text size, and the picture with it.
  const unit = parseFloat(getComputedStyle(document.documentElement).fontSize) / 18;
  const tall = { slab: 46 * unit, top: 52 * unit, axis: 218 * unit, strip: 236 * unit, bottom: 252 * unit, end: 280 * unit };
  const x = (/** @type {number} */ hz) => ((hz - low) / (high - low)) * width;
  const column = (/** @type {number} */ at) => (at / (data?.trace?.max.length ?? data?.open?.length ?? 1)) * width;
  const seen = (/** @type {Place} */ one) => one.high >= low && one.low <= high;
  const { view } = page;
  const places = placeOf(page).filter(seen);
  const layer = {
    slabs: slabs(), air: heard(), pins: pins(), flags: flags(), axis: axis(), products: products(), strip: strip(), pointer: pointer(),
  };
  return s('svg', { viewBox: `0 0 ${width} ${tall.end}`, width, height: tall.end, 'aria-hidden': 'true', focusable: 'false' },
    s('defs', {},
      s('pattern', { id: 'hatch', width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' }, s('path', { d: 'M0 0V7', class: 'hatch' })),
      s('pattern', { id: 'ruled', width: 7, height: 7, patternUnits: 'userSpaceOnUse' }, s('path', { d: 'M0 0V7', class: 'hatch' }))),
    layer.air, layer.slabs, layer.pins, layer.flags, layer.axis, layer.products, layer.strip, layer.pointer);

  /** @param {number} from @param {number} to @param {string} pattern @param {string} words */
  function slab(from, to, pattern, words) {
    const [left, right] = [Math.max(0, x(from)), Math.min(width, x(to))];
    const wide = words.length * 9 * unit + 8;
    return [
      s('rect', { x: left, y: 0, width: right - left, height: tall.slab, fill: `url(#${pattern})` }),
      s('path', { d: `M${left} 0V${tall.slab}H${right}V0`, class: 'slab-edge' }),
      right - left > wide && s('g', {},
        s('rect', { x: (left + right - wide) / 2, y: tall.slab / 2 - 11 * unit, width: wide, height: 22 * unit, class: 'ground' }),
        s('text', { x: (left + right) / 2, y: tall.slab / 2 + 5 * unit, class: 'word', 'text-anchor': 'middle' }, words)),
    ];
  }

  function slabs() {
    const list = places.filter((one) => one.what === 'multiplex').map((one) => slab(one.low, one.high, 'hatch', one.whose.replace('channel ', '')));
    const closed = places.filter((one) => one.what === 'closed').map((one) => slab(one.low, one.high, 'ruled', one.whose || 'closed'));
    let from = low;
    const outside = [];
    if (view.permits.length > 0) {
      for (const permit of [...view.permits].sort((a, b) => a.low_hz - b.low_hz)) {
        if (permit.low_hz > from && from < high) outside.push(slab(from, Math.min(high, permit.low_hz), 'ruled', 'not permitted'));
        from = Math.max(from, permit.high_hz);
      }
      if (from < high) outside.push(slab(from, high, 'ruled', 'not permitted'));
    }
    return s('g', {}, [...list, ...closed, ...outside].flat());
  }

  function heard() {
    if (!data) return s('g', {});
    const blank = (/** @type {number} */ left, /** @type {number} */ right, /** @type {string} */ word) => [
      s('rect', { x: left, y: tall.top, width: right - left, height: tall.axis - tall.top, class: 'unheard' }),
      right - left > 66 * unit && s('text', { x: (left + right) / 2, y: tall.axis - 60 * unit, class: 'word soft', 'text-anchor': 'middle' }, word),
    ];
    if (!data.trace) return s('g', {}, blank(0, width, 'nothing was swept'));
    const { max, heard: flags, floor_db: floor } = data.trace;
    const levels = [...max].filter((level) => !Number.isNaN(level));
    const bottom = Math.min(...levels, floor ?? Infinity) - 4;
    const peak = Math.max(...levels, bottom + 20) + 4;
    const y = (/** @type {number} */ level) => tall.axis - ((level - bottom) / (peak - bottom)) * (tall.axis - tall.top);
    let [line, land] = ['', ''];
    for (const [from, to, silent] of runs([...max].map((level) => Number(Number.isNaN(level))))) {
      if (silent) continue;
      let piece = '';
      for (let at = from; at < to; at += 1) piece += `${at > from ? 'L' : 'M'}${column(at + 0.5).toFixed(1)} ${y(max[at]).toFixed(1)}`;
      line += piece;
      land += `${piece}V${tall.axis}H${column(from + 0.5).toFixed(1)}Z`;
    }
    return s('g', {},
      runs(flags).filter(([, , value]) => value === 0).flatMap(([from, to]) => blank(column(from), column(to), 'unheard')),
      s('path', { d: land, class: 'land' }), s('path', { d: line, class: 'trace' }),
      floor !== null && s('path', { d: `M0 ${y(floor)}H${width}`, class: 'floor' }));
  }

  function pins() {
    const mine = places.filter((one) => one.what === 'foreign carrier');
    const head = tall.top + 10 * unit;
    return s('g', {}, mine.map((one, order) => {
      const at = x(one.low);
      const wide = one.whose.length * 8 * unit;
      // A name needs the room between the pins on both sides.
      const [before, after] = [mine[order - 1], mine[order + 1]].map((other) => other && x(other.low));
      const named = at - wide / 2 > Math.max(0, (before ?? -wide) + wide / 2) && at + wide / 2 < Math.min(width, (after ?? width + wide) - wide / 2);
      return [
        s('path', { d: `M${at} ${tall.axis}V${head + 5}`, class: 'pin' }),
        s('circle', { cx: at, cy: head, r: 5, class: 'pin-head' }),
        named && s('text', { x: at, y: head + 20 * unit, class: 'word halo', 'text-anchor': 'middle' }, one.whose),
      ];
    }).flat());
  }

  function flags() {
    const rows = [-Infinity, -Infinity, -Infinity, -Infinity];
    const high = 22 * unit;
    // Own carriers first take their rows, so that they hang highest.
    const own = places.filter((one) => one.what === 'carrier');
    const spare = places.filter((one, at) => one.what === 'spare' && places.findIndex((other) => other.what === 'spare' && other.low === one.low) === at);
    return s('g', {}, [...own, ...spare].sort((a, b) => a.low - b.low).map((one) => {
      const words = one.what === 'spare' ? 'spare' : one.whose;
      const wide = Math.max(22, words.length * 9) * unit + 6;
      const at = x(one.low);
      const right = at + wide < width;
      const left = right ? at : at - wide;
      let row = rows.findIndex((taken) => left > taken + 2);
      if (row < 0) row = rows.indexOf(Math.min(...rows));
      rows[row] = left + wide;
      const top = tall.top + 30 * unit + row * (high + 4 * unit);
      const kind = one.what === 'spare' ? 'spare' : 'own';
      return [
        s('path', { d: `M${at} ${tall.axis}V${top}`, class: `pole ${kind}` }),
        s('rect', { x: left, y: top, width: wide, height: high, class: `flag-${kind}` }),
        s('text', { x: left + wide / 2, y: top + 16 * unit, class: `word flag-word-${kind}`, 'text-anchor': 'middle' }, words),
      ];
    }).flat());
  }

  function axis() {
    const steps = [0.1e6, 0.2e6, 0.5e6, 1e6, 2e6, 5e6, 10e6, 20e6, 50e6, 100e6];
    const step = steps.find((one) => ((high - low) / one) * 62 * unit < width) ?? 200e6;
    const marks = [];
    for (let at = Math.ceil(low / step) * step; at <= high; at += step) {
      const words = formatFrequency(at).replace(/\.?0+$/, '');
      const place = Math.min(width - 16 * unit, Math.max(16 * unit, x(at)));
      marks.push(s('path', { d: `M${x(at)} ${tall.bottom}v6`, class: 'axis' }), s('text', { x: place, y: tall.end - 6 * unit, class: 'word', 'text-anchor': 'middle' }, words));
    }
    return s('g', {}, s('path', { d: `M0 ${tall.axis}H${width}`, class: 'axis' }), s('path', { d: `M0 ${tall.bottom}H${width}`, class: 'hair' }), marks);
  }

  function products() {
    if (!data) return s('g', {});
    const path = data.products.map((/** @type {any} */ one) => `M${x(one.product_hz).toFixed(1)} ${tall.axis + 2}v${7 * unit}`).join('');
    const hit = data.hits.map((/** @type {any} */ one) => `M${x(one.product_hz).toFixed(1)} ${tall.axis + 9 * unit}L${x(one.victim_hz).toFixed(1)} ${tall.axis - 30 * unit}`).join('');
    return s('g', {}, path && s('path', { d: path, class: 'product' }), hit && s('path', { d: hit, class: 'hit' }));
  }

  function strip() {
    if (!data?.open) return s('g', {});
    return s('g', {}, runs(data.open).filter(([, , value]) => value > 0).map(([from, to, value]) => {
      const height = [0, 1.5, 7, 15][value] ?? 0;
      return s('rect', { x: column(from), y: tall.bottom - height * unit, width: column(to) - column(from), height: height * unit, class: `open-${value}` });
    }));
  }

  function pointer() {
    if (carrier === null || carrier < low || carrier > high) return s('g', {});
    const at = x(carrier);
    return s('g', {}, s('path', { d: `M${at} 0V${tall.bottom}`, class: 'pointer' }), s('path', { d: `M${at - 7} 0h14l-7 10z`, class: 'pointer-head' }));
  }
}
