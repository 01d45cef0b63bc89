//! Sound made in the browser itself. A touch must unlock it; until then it is silent.

use core::cell::RefCell;

use web_sys::{AudioContext, OscillatorType};

thread_local! {
    static CONTEXT: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
}

/// To be called from a touch. False where the browser makes no sound.
pub fn unlock() -> bool {
    CONTEXT.with_borrow_mut(|context| {
        if context.is_none() {
            *context = AudioContext::new().ok();
        }
        context.as_ref().is_some_and(|context| context.resume().is_ok())
    })
}

/// Two short tones one after the other, hertz.
pub fn tones(pitches_hz: [f32; 2]) {
    const TONE_S: f64 = 0.22;
    CONTEXT.with_borrow(|context| {
        let Some(context) = context else { return };
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
