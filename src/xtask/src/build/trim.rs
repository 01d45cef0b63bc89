//! Takes out of the module what the app never needs, before wasm-opt sweeps up behind it.
//!
//! - Panics: the app is built to abort on one, so the page stops either way; the words for the console cost one part
//!   in twenty of all that a phone loads. A quick build (`--quick`) keeps them.
//! - Streams: a library of the view library exports three classes for the browser's streams, which nobody calls, and
//!   what is exported no optimiser may remove.

use anyhow::{Context as _, Result, ensure};
use walrus::{FunctionBuilder, FunctionId, Module, ModuleConfig};

/// Beginnings of the names of functions that end in a panic, after the crate's own hash is taken out.
const PANICS: [&str; 15] = [
    "core::panicking::",
    "std::panicking::",
    "core::option::unwrap_failed",
    "core::option::expect_failed",
    "core::result::unwrap_failed",
    "core::slice::index::slice_",
    "core::slice::copy_from_slice_impl::len_mismatch_fail",
    "core::str::slice_error_fail",
    "core::cell::panic_already",
    "core::cell::lazy::panic_poisoned",
    "alloc::raw_vec::handle_error",
    "alloc::raw_vec::capacity_overflow",
    "alloc::alloc::handle_alloc_error",
    "std::thread::local::panic_access_error",
    "std::alloc::rust_oom",
];
/// Beginning of the names of the exported stream classes' functions.
const STREAMS: &str = "intounderlying";
/// Parts of the names of what only those classes use.
const OF_STREAMS: [&str; 2] = ["wasm_streams::", "js_sys::futures::future_to_promise"];

/// The module with panics as plain traps and without the stream classes; names are dropped too.
pub fn trim(wasm: &[u8]) -> Result<Vec<u8>> {
    let without_names = ModuleConfig::new().generate_name_section(false).clone();
    let mut module = without_names.parse(wasm).context("reading the module to trim")?;
    let unused: Vec<_> = module
        .exports
        .iter()
        .filter(|export| export.name.contains(STREAMS))
        .map(walrus::Export::id)
        .collect();
    for export in unused {
        module.exports.delete(export);
    }

    let unneeded: Vec<FunctionId> = module
        .funcs
        .iter_local()
        .map(|(id, _)| id)
        .filter(|id| module.funcs.get(*id).name.as_deref().is_some_and(is_never_needed))
        .collect();
    // A new compiler may name them otherwise: better to hear of it than to ship a fifth more unseen.
    ensure!(unneeded.len() > 10, "found only {} functions that panic", unneeded.len());
    for id in unneeded {
        trap_instead(&mut module, id);
    }
    Ok(module.emit_wasm())
}

fn is_never_needed(name: &str) -> bool {
    let plain = without_hashes(name);
    PANICS.iter().any(|beginning| plain.starts_with(beginning))
        || OF_STREAMS.iter().any(|part| plain.contains(part))
}

/// `core[c5930c85]::panicking::panic` as `core::panicking::panic`.
fn without_hashes(name: &str) -> String {
    let mut plain = String::new();
    let mut inside = false;
    for letter in name.chars() {
        match letter {
            '[' => inside = true,
            ']' => inside = false,
            _ if inside => {}
            _ => plain.push(letter),
        }
    }
    plain
}

fn trap_instead(module: &mut Module, id: FunctionId) {
    let kind = module.types.get(module.funcs.get(id).ty());
    let (parameters, results) = (kind.params().to_vec(), kind.results().to_vec());
    let arguments = parameters.iter().map(|kind| module.locals.add(*kind)).collect();
    let mut builder = FunctionBuilder::new(&mut module.types, &parameters, &results);
    builder.func_body().unreachable();
    let body = builder.local_func(arguments);
    module.funcs.get_mut(id).kind = walrus::FunctionKind::Local(body);
}

#[cfg(test)]
mod tests {
    use super::is_never_needed;

    #[test]
    fn what_is_never_needed_is_told_by_its_name() {
        let table = [
            ("core[c5930c85a12de822]::panicking::panic_fmt", true),
            ("std[a543996e6e7dbf1e]::panicking::panic_with_hook", true),
            ("core::panicking::assert_failed::h14e5b91d3ca99bf2", true),
            ("core::ptr::drop_in_place<wasm_streams::writable::Inner>", true),
            ("js_sys::futures::future_to_promise::{{closure}}", true),
            ("liftmargin_core::card::compute::card", false),
            ("core[c5930c85a12de822]::fmt::write", false),
        ];
        for (name, never) in table {
            assert_eq!(is_never_needed(name), never, "{name}");
        }
    }
}
