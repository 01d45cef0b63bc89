//! Starts the app.

fn main() {
    console_error_panic_hook::set_once();
    // In a thread of its own there is no page: `aside.js` asks for what is to be done.
    if web_sys::window().is_some() {
        liftmargin_app::start();
    }
}
