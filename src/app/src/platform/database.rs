//! The browser's database: texts under keys, two stores of them (as they are, and as they were before). A transaction
//! that is complete is on the disk.

use core::fmt;
use core::future::{Future, IntoFuture as _};
use core::pin::Pin;
use core::time::Duration;
use std::cell::{Cell, RefCell};
use std::rc::Rc;

use idb::{
    DatabaseEvent as _, Factory, KeyRange, ObjectStore, ObjectStoreParams, Query, Transaction,
    TransactionMode,
};
use js_sys::{Array, Function, Object, Promise, Reflect};
use liftmargin_document::keep::{Change, Decision, LATE, Put, Row, is_whole, needed_at_once};
use liftmargin_document::record::List;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, future_to_promise};
use web_sys::IdbDatabase;

use super::frame;
use super::storage::StorageFault;

const NAME: &str = "liftmargin";
const NOW: &str = "records";
const PREVIOUS: &str = "previous";
/// A browser that does not answer in this time has failed.
const PATIENCE: Duration = Duration::from_secs(5);

/// Something that the database did not do.
struct Failed(JsValue);

impl From<idb::Error> for Failed {
    fn from(error: idb::Error) -> Self {
        match error {
            idb::Error::DomException(exception) => Self(exception.into()),
            other => Self(other.to_string().into()),
        }
    }
}

impl From<JsValue> for Failed {
    fn from(error: JsValue) -> Self {
        Self(error)
    }
}

impl From<Failed> for StorageFault {
    fn from(failed: Failed) -> Self {
        let text = |name: &str| {
            let value = Reflect::get(&failed.0, &name.into()).ok().and_then(|value| value.as_string());
            value.unwrap_or_default()
        };
        let message = failed.0.as_string().unwrap_or_else(|| text("message"));
        Self::named(&text("name"), &message)
    }
}

thread_local! {
    /// The open database. Closed when another version of the app wants to change its shape, or by the browser.
    static OPEN: RefCell<Option<IdbDatabase>> = const { RefCell::new(None) };
}

async fn database() -> Result<IdbDatabase, Failed> {
    if let Some(open) = OPEN.with_borrow(Clone::clone) {
        return Ok(open);
    }
    let mut request = Factory::new()?.open(NAME, Some(1))?;
    request.on_upgrade_needed(|event| {
        if let Ok(database) = event.database() {
            for store in [NOW, PREVIOUS] {
                let _ = database.create_object_store(store, ObjectStoreParams::new());
            }
        }
    });
    let mut database = request.await?;
    database.on_close(|_| OPEN.set(None));
    database.on_version_change(|_| {
        if let Some(open) = OPEN.take() {
            open.close();
        }
    });
    database.forget_callbacks();
    let raw = IdbDatabase::from(database);
    OPEN.set(Some(raw.clone()));
    Ok(raw)
}

/// A transaction over both stores; to be complete it must have reached the disk.
fn begin(raw: &IdbDatabase, mode: TransactionMode) -> Result<Transaction, Failed> {
    let stores = Array::of2(&NOW.into(), &PREVIOUS.into());
    let mode = match mode {
        TransactionMode::ReadOnly => "readonly",
        _ => "readwrite",
    };
    let options = Object::new();
    Reflect::set(&options, &"durability".into(), &"strict".into())?;
    // web-sys counts the third argument as unstable; an older browser passes over it.
    let begin: Function = Reflect::get(raw, &"transaction".into())?.dyn_into()?;
    let transaction = begin.call3(raw, &stores, &mode.into(), &options)?;
    Ok(Transaction::from(transaction.unchecked_into::<web_sys::IdbTransaction>()))
}

/// Waits until it is on the disk.
async fn complete(transaction: Transaction) -> Result<(), Failed> {
    let why = web_sys::IdbTransaction::from(transaction);
    match Transaction::from(why.clone()).await {
        Ok(result) if result.is_committed() => Ok(()),
        Ok(_) => Err(Failed(why.error().map_or_else(|| "stopped by the browser".into(), Into::into))),
        Err(error) => Err(error.into()),
    }
}

/// Whether nobody waits any more for what is done.
type GivenUp = Rc<Cell<bool>>;

type Work = Pin<Box<dyn Future<Output = Result<(), Failed>>>>;

/// Waits for this for a while. Then it goes on alone, since what the browser has begun cannot be called back; it begins nothing new.
async fn patiently(given_up: GivenUp, work: Work) -> Result<(), StorageFault> {
    let outcome = Rc::new(Cell::new(Err(StorageFault::Silent)));
    let told = outcome.clone();
    let working = future_to_promise(async move {
        told.set(work.await.map_err(StorageFault::from));
        Ok(JsValue::UNDEFINED)
    });
    // In two halves: a device that slept through the first one is given the second, awake.
    let waiting = Promise::new(&mut |done, _| {
        frame::after(PATIENCE / 2, move || {
            frame::after(PATIENCE / 2, move || drop(done.call0(&JsValue::NULL)));
        });
    });
    let _ = JsFuture::from(Promise::race(&Array::of2(&working, &waiting))).await;
    given_up.set(true);
    outcome.replace(Err(StorageFault::Silent))
}

fn go_on(given_up: &GivenUp) -> Result<(), Failed> {
    if given_up.get() { Err(Failed("nobody waits for it any more".into())) } else { Ok(()) }
}

/// How much is read: so many parts of what is late.
#[derive(Clone, Copy, PartialEq)]
pub enum Depth {
    /// What the first card needs.
    First,
    /// With the log.
    Log,
    /// Everything.
    All,
}

/// In the order of keys what stands on a list comes between these two behind its name.
const BOUNDS: [char; 2] = ['/', '0'];

/// After every key.
const LAST: &str = "\u{ffff}";

/// The keys from one to another.
fn between(from: &str, to: &str, without_first: bool) -> Result<KeyRange, Failed> {
    Ok(KeyRange::bound(&from.into(), &to.into(), Some(without_first), Some(true))?)
}

/// The keys of a list, from the one after this.
fn keys_of(list: List, after: &str) -> Result<KeyRange, Failed> {
    between(after, &format!("{}{}", list.key(), BOUNDS[1]), true)
}

/// These keys, one by one.
fn alone(keys: &[String]) -> Result<Vec<KeyRange>, Failed> {
    Ok(keys.iter().map(|key| KeyRange::only(&key.into())).collect::<Result<_, _>>()?)
}

/// What a start reads, as far as it is known from the beginning.
fn ranges(depth: Depth) -> Result<Vec<KeyRange>, Failed> {
    let mut late: Vec<&str> = LATE.into_iter().flatten().map(|list| list.key()).collect();
    late.sort_unstable();
    let mut ranges = Vec::new();
    let mut from = String::new();
    for key in late {
        let [to, after] = BOUNDS.map(|bound| format!("{key}{bound}"));
        ranges.push(between(&from, &to, false)?);
        from = after;
    }
    ranges.push(between(&from, LAST, false)?);
    for part in LATE.into_iter().take(depth as usize) {
        ranges.extend(lists(part)?);
    }
    Ok(ranges)
}

/// All of these lists.
fn lists(part: &[List]) -> Result<Vec<KeyRange>, Failed> {
    part.iter().map(|list| keys_of(*list, &format!("{}/", list.key()))).collect()
}

type Stored = Vec<(String, Option<String>)>;

/// What stands in these ranges of a store, so much of each at most.
async fn in_ranges(store: &ObjectStore, ranges: Vec<KeyRange>, most: Option<u32>) -> Result<Stored, Failed> {
    let mut asked = Vec::new();
    for range in ranges {
        let range = Query::KeyRange(range);
        let keys = store.get_all_keys(Some(range.clone()), most)?.into_future();
        asked.push((keys, store.get_all(Some(range), most)?.into_future()));
    }
    let mut found = Vec::new();
    for (keys, texts) in asked {
        let (keys, texts) = (keys.await?, texts.await?);
        let keys = keys.iter().zip(&texts);
        found.extend(keys.filter_map(|(key, text)| Some((key.as_string()?, text.as_string()))));
    }
    Ok(found)
}

/// Says what of the rows is to be put there.
pub type Mend = Box<dyn FnOnce(&mut Vec<Row>) -> Vec<Put>>;

/// What is stored, so much of it, after `mend` has had its say about what is to be put there in the same transaction.
///
/// # Errors
/// `StorageFault`: nothing was read, and nothing may be taken to be there or not.
pub async fn read_all(depth: Depth, mend: Mend) -> Result<Vec<Row>, StorageFault> {
    let (all, given_up) = (Rc::new(RefCell::new(Vec::new())), GivenUp::default());
    let (into, is_vain) = (all.clone(), given_up.clone());
    let work = async move {
        let database = database().await?;
        go_on(&is_vain)?;
        let transaction = begin(&database, TransactionMode::ReadWrite)?;
        let store = transaction.object_store(NOW)?;
        let mut found = in_ranges(&store, ranges(depth)?, None).await?;
        if depth == Depth::First {
            let more = match needed_at_once(&found) {
                Some(keys) => alone(&keys)?,
                // Nobody knows what is in the air: all that may be.
                None => lists(LATE[0])?,
            };
            found.extend(in_ranges(&store, more, None).await?);
        }
        // The copy before is looked at where it is needed alone.
        let harmed = found.iter().filter(|(key, now)| !is_whole(key, now.as_deref()));
        let harmed: Vec<String> = harmed.map(|(key, _)| key.clone()).collect();
        let mut before = in_ranges(&transaction.object_store(PREVIOUS)?, alone(&harmed)?, None).await?;
        let mut rows: Vec<Row> = found
            .into_iter()
            .map(|(key, now)| {
                let place = before.iter().position(|(there, _)| *there == key);
                let previous = place.and_then(|place| before.swap_remove(place).1);
                Row { key, now, previous }
            })
            .collect();
        go_on(&is_vain)?;
        for one in mend(&mut rows) {
            put(&transaction, &one)?;
        }
        complete(transaction).await?;
        into.replace(rows);
        Ok(())
    };
    patiently(given_up, Box::pin(work)).await?;
    Ok(all.take())
}

fn put(transaction: &Transaction, put: &Put) -> Result<(), Failed> {
    let key = JsValue::from(&put.key);
    if let Some(previous) = &put.previous {
        transaction.object_store(PREVIOUS)?.put(&previous.into(), Some(&key))?;
    }
    transaction.object_store(NOW)?.put(&JsValue::from(&put.now), Some(&key))?;
    Ok(())
}

/// Writes the changes, all or none, each against what is stored at that moment; says what became of each.
///
/// # Errors
/// `StorageFault`: nothing was written; only of `Silent` it is not known, and `late` is called once it is.
pub async fn commit(
    changes: Rc<[Change]>,
    late: impl FnOnce() + 'static,
) -> Result<Vec<Decision>, StorageFault> {
    let (found, given_up) = (Rc::new(RefCell::new(Vec::new())), GivenUp::default());
    let (into, is_vain) = (found.clone(), given_up.clone());
    let work = async move {
        let done = write(&changes, &is_vain).await;
        if is_vain.get() {
            late();
        }
        into.replace(done?);
        Ok(())
    };
    patiently(given_up, Box::pin(work)).await?;
    Ok(found.take())
}

async fn write(changes: &[Change], given_up: &GivenUp) -> Result<Vec<Decision>, Failed> {
    let database = database().await?;
    // One that begins now could come after a later word.
    go_on(given_up)?;
    let transaction = begin(&database, TransactionMode::ReadWrite)?;
    let store = transaction.object_store(NOW)?;
    let mut asked = Vec::with_capacity(changes.len());
    for change in changes {
        asked.push(store.get(JsValue::from(&change.key))?.into_future());
    }
    let mut decisions = Vec::with_capacity(changes.len());
    for (change, stored) in changes.iter().zip(asked) {
        let stored = stored.await?.and_then(|stored| stored.as_string());
        decisions.push(change.decide(stored.as_deref()));
    }
    go_on(given_up)?;
    for decision in &decisions {
        if let Decision::Write(one, _) = decision {
            put(&transaction, one)?;
        }
    }
    complete(transaction).await?;
    Ok(decisions)
}

/// Which copy of what is stored.
#[derive(Clone, Copy)]
pub enum Copy {
    /// As it is.
    Now,
    /// As it was before.
    Previous,
}

/// What is stored under these keys.
///
/// # Errors
/// `StorageFault`.
pub async fn read(keys: &[String], copy: Copy) -> Result<Stored, StorageFault> {
    look(alone(keys), copy, None).await
}

/// What is stored of a list under the next keys after one, so much at most.
///
/// # Errors
/// `StorageFault`.
pub async fn read_on(list: List, after: &str, most: u32) -> Result<Stored, StorageFault> {
    look(keys_of(list, after).map(|range| vec![range]), Copy::Now, Some(most)).await
}

async fn look(
    ranges: Result<Vec<KeyRange>, Failed>,
    copy: Copy,
    most: Option<u32>,
) -> Result<Stored, StorageFault> {
    let found = Rc::new(RefCell::new(Vec::new()));
    let into = found.clone();
    let work = async move {
        let database = database().await?;
        let transaction = begin(&database, TransactionMode::ReadOnly)?;
        let store = transaction.object_store(match copy {
            Copy::Now => NOW,
            Copy::Previous => PREVIOUS,
        })?;
        into.replace(in_ranges(&store, ranges?, most).await?);
        Ok(())
    };
    patiently(GivenUp::default(), Box::pin(work)).await?;
    Ok(found.take())
}

impl fmt::Debug for Failed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}
