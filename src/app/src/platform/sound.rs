//! Sound made in the browser itself. A touch must unlock it; until then it is silent.

use core::cell::RefCell;

use js_sys::Reflect;
use leptos::prelude::{on_cleanup, window_event_listener_untyped};
use web_sys::{AudioContext, OscillatorType};

thread_local! {
    static CONTEXT: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
}

/// To be called from a touch. False where the browser makes no sound.
pub fn unlock() -> bool {
    with_context(|context| context.resume().is_ok()).unwrap_or(false)
}

/// Whether a tone would be heard now: a page that was opened anew is silent until it is touched, and a phone call may take
/// the sound away.
pub fn is_heard() -> bool {
    with_context(is_running).unwrap_or(false)
}

/// Unlocks the sound at the next touch anywhere, until the component that asked is gone.
pub fn unlock_by_any_touch() {
    let heard = window_event_listener_untyped("click", move |_| {
        unlock();
    });
    on_cleanup(move || heard.remove());
}

fn is_running(context: &AudioContext) -> bool {
    Reflect::get(context, &"state".into()).is_ok_and(|state| state == "running")
}

fn with_context<T>(with: impl FnOnce(&AudioContext) -> T) -> Option<T> {
    CONTEXT.with_borrow_mut(|context| {
        if context.is_none() {
            *context = AudioContext::new().ok();
        }
        context.as_ref().map(with)
    })
}

/// Two short tones one after the other, hertz.
pub fn tones(pitches_hz: [f32; 2]) {
    const TONE_S: f64 = 0.22;
    with_context(|context| {
        // Tones that wait for an unlocking would all sound at once.
        if !is_running(context) {
            let _ = context.resume();
            return;
        }
        for (order, pitch_hz) in pitches_hz.into_iter().enumerate() {
            let Ok(tone) = context.create_oscillator() else { return };
            let start_s = context.current_time() + order as f64 * 1.3 * TONE_S;
            // Square: more of it lies where small loudspeakers are loud.
            tone.set_type(OscillatorType::Square);
            tone.frequency().set_value(pitch_hz);
            let _ = tone.connect_with_audio_node(&context.destination());
            let _ = tone.start_with_when(start_s);
            let _ = tone.stop_with_when(start_s + TONE_S);
        }
    });
}
