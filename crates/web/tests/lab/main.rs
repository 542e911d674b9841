//! What the page's workers are asked and what they answer: the form that `www/src/core/lab.types.ts`
//! says, the committed digests, and nothing hostile that makes them panic.
//!
//! Natively this file is empty; `scripts/test` runs it in Node with the other boundary tests.
#![cfg(all(target_arch = "wasm32", feature = "lab"))]
// Clippy knows a test by `#[test]` only.
#![allow(clippy::unwrap_used, clippy::panic)]

// What only the board's tests need of it is not missed here.
#[allow(dead_code)]
#[path = "../boundary/js.rs"]
mod js;

mod ask;
mod edge;
mod hand;
mod hostile;
mod jobs;
mod matters;
mod power;
mod replay;
mod robot;
mod sheets;
mod suggest;
