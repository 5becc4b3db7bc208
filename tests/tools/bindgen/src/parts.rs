//! Lays a compiled core into two files that share one memory: what the first one's exports call,
//! and what only the other's do. A page starts with the first and fetches the second when it
//! stands; the second's exports then join the first's.
//!
//! Nothing is compiled twice, so both work on the same lesson with the same code. Whatever can be
//! called through a table of functions stays in the first file, since nobody can tell by whom; so
//! do all constants.

use std::error::Error;

use walrus::{FunctionKind, GlobalKind, ImportKind, ImportedFunction, Module, passes::gc};

/// The name under which the second file imports from the first.
pub const FIRST: &str = "first";

/// The bytes of both files; `is_second` says whether an export of this name belongs to the second.
///
/// # Errors
/// A module that cannot be read, or none of whose exports belongs to the second file.
pub fn two_files(whole: &[u8], is_second: impl Fn(&str) -> bool) -> Result<[Vec<u8>; 2], Box<dyn Error>> {
    let mut first = with_exports(whole, |name| !is_second(name))?;
    gc::run(&mut first);
    let mut second = with_exports(whole, &is_second)?;
    if second.exports.iter().next().is_none() {
        return Err("no export belongs to the second file".into());
    }
    borrow_all(&mut second, &first);
    gc::run(&mut second);
    lend(&mut first, &mut second);
    Ok([first.emit_wasm(), second.emit_wasm()])
}

/// A module with only these of its exports.
fn with_exports(whole: &[u8], keep: impl Fn(&str) -> bool) -> Result<Module, Box<dyn Error>> {
    let mut module = Module::from_buffer(whole)?;
    let others: Vec<_> = module.exports.iter().filter(|export| !keep(&export.name)).map(|export| export.id()).collect();
    for id in others {
        module.exports.delete(id);
    }
    Ok(module)
}

/// Imports everything that the first file has; what of it isn't needed may go afterwards.
fn borrow_all(second: &mut Module, first: &Module) {
    second.start = None;
    // The first file fills memory and tables.
    for id in second.data.iter().map(|data| data.id()).collect::<Vec<_>>() {
        second.data.delete(id);
    }
    for id in second.elements.iter().map(|element| element.id()).collect::<Vec<_>>() {
        second.elements.delete(id);
    }
    for memory in second.memories.iter_mut() {
        memory.data_segments.clear();
        memory.import = Some(second.imports.add(FIRST, "", memory.id()));
    }
    for table in second.tables.iter_mut() {
        table.elem_segments.clear();
        table.import = Some(second.imports.add(FIRST, "", table.id()));
    }
    for id in second.globals.iter().map(|global| global.id()).collect::<Vec<_>>() {
        second.globals.get_mut(id).kind = GlobalKind::Import(second.imports.add(FIRST, "", id));
    }
    // Both were read from the same bytes: a function has the same number in both.
    let shared: Vec<usize> = first.funcs.iter_local().map(|(id, _)| id.index()).collect();
    for function in second.funcs.iter_mut() {
        if shared.binary_search(&function.id().index()).is_ok() {
            let import = second.imports.add(FIRST, "", function.id());
            function.kind = FunctionKind::Import(ImportedFunction { import, ty: function.ty() });
        }
    }
}

/// Exports from the first file what the second imports from it, under names that are short and new.
fn lend(first: &mut Module, second: &mut Module) {
    let mut numbers = (0..).map(|number: u32| number.to_string());
    for import in second.imports.iter_mut().filter(|import| import.module == FIRST) {
        import.name = numbers.next().unwrap_or_default();
        let name = &import.name;
        match import.kind {
            ImportKind::Function(of) => {
                let id = first.funcs.iter().map(|function| function.id()).find(|id| id.index() == of.index());
                id.map(|id| first.exports.add(name, id))
            }
            ImportKind::Memory(of) => {
                let id = first.memories.iter().map(|memory| memory.id()).find(|id| id.index() == of.index());
                id.map(|id| first.exports.add(name, id))
            }
            ImportKind::Table(of) => {
                let id = first.tables.iter().map(|table| table.id()).find(|id| id.index() == of.index());
                id.map(|id| first.exports.add(name, id))
            }
            ImportKind::Global(of) => {
                let id = first.globals.iter().map(|global| global.id()).find(|id| id.index() == of.index());
                id.map(|id| first.exports.add(name, id))
            }
            ImportKind::Tag(_) => None,
        };
    }
}
