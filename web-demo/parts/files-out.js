// @ts-check
// Files that leave the page, by the browser's own way of saving.

/** @param {string} name @param {string} content @param {string} type */
export function saveAs(name, content, type) {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // Some browsers look at the address only after the click.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A file name from a shoot's name. @param {string} name @param {string} ending */
export const fileName = (name, ending) => `${name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || 'shoot'}${ending}`;
