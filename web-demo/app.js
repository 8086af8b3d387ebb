// @ts-check
import init from './pkg/spurless_wasm.js';
import { bytes } from './files.js';

const state = /** @type {HTMLOutputElement} */ (document.querySelector('#module'));
await init({ module_or_path: await bytes('pkg/spurless_wasm_bg.wasm') });
state.value = 'The module is ready.';
