//! Mounts the app.

fn main() {
    leptos::mount::mount_to_body(liftmargin_app::App);
}
