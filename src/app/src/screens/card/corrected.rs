//! What the log has taught of the airframe: said on the card, and switched off and on by one touch.

use leptos::prelude::*;
use liftmargin_document::model::{Airframe, Learned};
use liftmargin_document::record::Record;
use liftmargin_document::words::{corrected_by, sentence};

use crate::live::{flag, live_while, memo, text};
use crate::parts::SwitchRow;
use crate::store::Store;

/// The line, while there is something learned.
pub fn corrected(store: Store) -> AnyView {
    let learned = memo(move || {
        let airframe = store.with_setup(|setup| setup.airframe.clone())?;
        let known: Option<Learned> =
            store.bundle.with(|bundle| Airframe::find(bundle, &airframe)?.1.correction.clone());
        known.filter(|known| known.flights > 0)
    });
    let is_on = move || learned.with(|known| known.as_ref().is_some_and(|known| known.on));
    let switch = Callback::new(move |on: bool| {
        let Some(airframe) = store.with_setup(|setup| setup.airframe.clone()) else { return };
        store.edit_alone(
            if on { "switching the correction on" } else { "switching the correction off" },
            Box::new(move |bundle| {
                let airframe = Airframe::find_mut(bundle, &airframe);
                if let Some(learned) = airframe.and_then(|airframe| airframe.correction.as_mut()) {
                    learned.on = on;
                }
            }),
        );
    });
    live_while(
        move || learned.with(Option::is_some),
        move || {
            let words = text(move || {
                learned.with(|known| {
                    known.as_ref().map_or_else(String::new, |known| {
                        let words = corrected_by(known.flights, known.factor, known.spread);
                        if known.on { sentence(&words) } else { format!("Switched off: {words}.") }
                    })
                })
            });
            let sub = text(|| "Touch to see the figures without it, and with it again.".to_owned());
            view! {
                <section data-figure="corrected">
                    <SwitchRow label=words sub on=flag(is_on) on_change=switch />
                </section>
            }
        },
    )
}
