//! Starts the app.

fn main() {
    console_error_panic_hook::set_once();
    liftmargin_app::start();
}
