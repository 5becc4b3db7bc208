//! Times the workloads natively: one JSON object a line, for report.mjs.

#[cfg(not(target_arch = "wasm32"))]
mod native;

fn main() -> Result<(), workloads::NoSuchProblem> {
    #[cfg(not(target_arch = "wasm32"))]
    native::run()?;
    Ok(())
}
