//! Spurless for a browser.
