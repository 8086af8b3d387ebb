// @ts-check
// The time now, and the log of what happened.

/** Minutes since midnight. */
export const minutes = (now = new Date()) => now.getHours() * 60 + now.getMinutes();

/** The most that a line of the log holds, and the most lines. */
const [LONGEST, MOST] = [96, 64];

/** Writes a line into the log; of a full one the oldest line goes. @param {any} shoot @param {string} what */
export function note(shoot, what) {
  shoot.log = [...(shoot.log ?? []), { at_min: minutes(), what: cut(what, LONGEST) }].slice(-MOST);
}

/** As much as fits into so many bytes. @param {string} text @param {number} most */
export function cut(text, most) {
  const bytes = new TextEncoder();
  let kept = text;
  while (bytes.encode(kept).length > most) kept = kept.slice(0, -1);
  return kept;
}
