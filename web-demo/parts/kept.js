// @ts-check
// What the shoot keeps of a link by its name or place goes with it when it is renamed or taken out.

import { forget } from './pair.js';

/** @param {any} shoot @param {(one: any) => boolean} mine @param {(one: any) => void} change */
const each = (shoot, mine, change) => [...(shoot.levels ?? []), ...(shoot.cells ?? [])].filter(mine).forEach(change);

/** @param {any} shoot @param {(one: any) => boolean} keep */
function only(shoot, keep) {
  for (const list of ['levels', 'cells']) if (shoot[list]) shoot[list] = shoot[list].filter(keep);
}

/** @param {any} shoot @param {number} at @param {string} label */
export function renameLink(shoot, at, label) {
  const old = shoot.links[at].label;
  each(shoot, (one) => one.link === old, (one) => void (one.link = label));
  if (shoot.trouble?.link === old) shoot.trouble.link = label;
}

/** @param {any} shoot @param {number} at @param {number} which @param {string} label */
export function renameTransmitter(shoot, at, which, label) {
  const { label: link, transmitters } = shoot.links[at];
  each(shoot, (one) => one.link === link && one.transmitter === transmitters[which].label, (one) => void (one.transmitter = label));
}

/** @param {any} shoot @param {number} at */
export function dropLink(shoot, at) {
  const { label } = shoot.links[at];
  forget(shoot, { 'link-gone': { link: at } });
  only(shoot, (one) => one.link !== label);
  if (shoot.trouble?.link === label) delete shoot.trouble;
  shoot.links.splice(at, 1);
}

/** @param {any} shoot @param {number} at @param {number} which */
export function dropTransmitter(shoot, at, which) {
  const { label, transmitters } = shoot.links[at];
  forget(shoot, { 'transmitter-gone': { at: { link: at, transmitter: which } } });
  only(shoot, (one) => one.link !== label || one.transmitter !== transmitters[which].label);
  transmitters.splice(which, 1);
}
