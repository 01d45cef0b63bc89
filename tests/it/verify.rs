//! Every check of `cargo xtask verify` holds, and the README's table is the one it prints.

#[path = "../verified/mod.rs"]
mod verified;

#[test]
fn val_every_line_of_the_table_holds() {
    for line in verified::lines() {
        assert!(line.holds(), "{line:?}");
    }
}

/// `cargo xtask verify --readme` was run.
#[test]
fn the_readme_has_the_table_as_computed() {
    let readme = include_str!("../../README.md");
    let table = verified::markdown(&verified::lines());
    let written = verified::put_into(readme, &table).expect("marks in the README");
    assert!(readme == written, "run cargo xtask verify --readme; the table now:\n{table}");
}
