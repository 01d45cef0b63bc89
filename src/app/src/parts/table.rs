//! A small table of words.

use leptos::prelude::*;

/// A table; the first cell of each row names it.
#[component]
pub fn Table(
    /// What it shows.
    caption: String,
    /// Names of the columns, that of the row names first.
    head: Vec<String>,
    /// Rows, each with its name first.
    rows: Vec<Vec<String>>,
) -> impl IntoView {
    let head: Vec<AnyView> =
        head.into_iter().map(|words| view! { <th scope="col">{words}</th> }.into_any()).collect();
    let row = |cells: Vec<String>| {
        let mut cells = cells.into_iter();
        let name = cells.next().unwrap_or_default();
        let cells: Vec<AnyView> = cells.map(|words| view! { <td>{words}</td> }.into_any()).collect();
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
