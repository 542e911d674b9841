//! `kickstill-test-runner`: runs a test file compiled to wasm in Node, for `cargo test` of the
//! wasm target. `scripts/test` builds it and tells cargo of it.
//!
//! It is the runner of wasm-bindgen as a library, so that Cargo.lock holds it and the
//! bindings to one version. Node's bindings are made as they are shipped when
//! `WASM_BINDGEN_NO_DEBUG` is set, else with assertions on the types of arguments.

fn main() -> anyhow::Result<()> {
    wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(std::env::args_os())
}
