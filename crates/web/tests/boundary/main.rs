//! What only wasm can show: what crosses the boundary to JavaScript, and that nothing that is
//! thrown at it from there makes it panic. Everything goes through the generated bindings, as the
//! page's calls do.
//!
//! Natively this file is empty. `scripts/test` compiles it for the wasm target and runs it in
//! Node; how to run it alone stands in DEVELOPERS.md.
#![cfg(target_arch = "wasm32")]
// Clippy knows a test by `#[test]` only.
#![allow(clippy::unwrap_used, clippy::panic)]

mod bits;
mod canvas;
mod double;
mod hand;
mod hostile;
mod js;
mod mode;
mod robots;
mod shapes;
