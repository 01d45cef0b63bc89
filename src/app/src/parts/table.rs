//! A small table of words.

use leptos::prelude::*;

/// A table; the first cell of each row names it.
#[component]
pub fn Table(
    /// What it shows.
    caption: String,
    /// Names of the columns, that of the row names first.
    head: Vec<String>,
    /// Rows, each with its name first. What follows a line break in a cell stands small below.
    rows: Vec<Vec<String>>,
) -> impl IntoView {
    let head: Vec<AnyView> =
        head.into_iter().map(|words| view! { <th scope="col">{words}</th> }.into_any()).collect();
    let row = |cells: Vec<String>| {
        let mut cells = cells.into_iter();
        let name = cells.next().unwrap_or_default();
        let cells: Vec<AnyView> = cells.map(cell).collect();
        view! { <tr><th scope="row">{name}</th>{cells}</tr> }.into_any()
    };
    let rows: Vec<AnyView> = rows.into_iter().map(row).collect();
    let label = caption.clone();
    view! {
        <div class="table-place" tabindex="0" role="group" aria-label=label>
            <table>
                <caption>{caption}</caption>
                <thead><tr>{head}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}

fn cell(words: String) -> AnyView {
    let (words, small) = match words.split_once('\n') {
        Some((words, small)) => (words.to_owned(), Some(small.to_owned())),
        None => (words, None),
    };
    let small = small.map(|small| view! { " " <small>{small}</small> });
    view! { <td>{words}{small}</td> }.into_any()
}
