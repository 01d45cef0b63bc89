//! Mounts the app.
use leptos::prelude::*;

fn main() {
    mount_to_body(|| view! { <main data-screen="card">"Liftmargin"</main> });
}
