//! The browser's database: texts under keys, two stores of them (as they are, and as they were before). A transaction
//! that is complete is on the disk.

use core::fmt;
use core::future::{Future, IntoFuture as _};
use core::time::Duration;
use std::cell::RefCell;

use idb::{
    DatabaseEvent as _, Factory, KeyRange, ObjectStore, ObjectStoreParams, Query, Transaction,
    TransactionMode,
};
use js_sys::{Array, Function, Object, Promise, Reflect};
use liftmargin_document::keep::{Change, Decision, LATE, Put, Row};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::IdbDatabase;

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

/// A future that gives up after a while.
async fn patiently<T>(work: impl Future<Output = Result<T, Failed>>) -> Result<T, StorageFault> {
    let mut work = core::pin::pin!(work);
    let wait = Promise::new(&mut |done, _| {
        super::frame::after(PATIENCE, move || drop(done.call0(&JsValue::NULL)));
    });
    let mut wait = core::pin::pin!(JsFuture::from(wait));
    core::future::poll_fn(move |context| {
        use core::task::Poll;
        if let Poll::Ready(done) = work.as_mut().poll(context) {
            return Poll::Ready(done.map_err(StorageFault::from));
        }
        wait.as_mut().poll(context).map(|_| Err(StorageFault::Silent))
    })
    .await
}

/// Keys before those of the list that is read late, and after them; its own.
fn ranges() -> Result<([KeyRange; 2], KeyRange), Failed> {
    // In the order of keys `0` follows upon `/`.
    let (from, to) = (format!("{}/", LATE.key()).into(), format!("{}0", LATE.key()).into());
    let early = [KeyRange::upper_bound(&from, Some(true))?, KeyRange::lower_bound(&to, None)?];
    Ok((early, KeyRange::bound(&from, &to, None, Some(true))?))
}

/// Everything of a store that is read before the first card, and with `all` the rest.
async fn everything(store: &ObjectStore, all: bool) -> Result<Vec<(String, Option<String>)>, Failed> {
    let (early, late) = ranges()?;
    let asked: Vec<_> = early
        .into_iter()
        .chain(all.then_some(late))
        .map(|range| {
            let query = || Query::KeyRange(range.clone());
            Ok((
                store.get_all_keys(Some(query()), None)?.into_future(),
                store.get_all(Some(query()), None)?.into_future(),
            ))
        })
        .collect::<Result<_, idb::Error>>()?;
    let mut found = Vec::new();
    for (keys, texts) in asked {
        let (keys, texts) = (keys.await?, texts.await?);
        found.extend(pairs(&keys, &texts));
    }
    Ok(found)
}

/// The keys of the list that is read late.
///
/// # Errors
/// `StorageFault`.
pub async fn late_keys() -> Result<Vec<String>, StorageFault> {
    patiently(async move {
        let database = database().await?;
        let transaction = begin(&database, TransactionMode::ReadOnly)?;
        let (_, late) = ranges()?;
        let keys = transaction.object_store(NOW)?.get_all_keys(Some(Query::KeyRange(late)), None)?;
        Ok(keys.await?.iter().filter_map(JsValue::as_string).collect())
    })
    .await
}

/// What is stored, what is read late only with `all`, after `mend` has had its say about what is to be put there in the same transaction.
///
/// # Errors
/// `StorageFault`: nothing was read, and nothing may be taken to be there or not.
pub async fn read_all(
    all: bool,
    mend: impl FnOnce(&mut Vec<Row>) -> Vec<Put>,
) -> Result<Vec<Row>, StorageFault> {
    patiently(async move {
        let database = database().await?;
        let transaction = begin(&database, TransactionMode::ReadWrite)?;
        let (now, previous) = (transaction.object_store(NOW)?, transaction.object_store(PREVIOUS)?);
        let (now, earlier) = (everything(&now, all).await?, everything(&previous, all).await?);
        let mut rows: Vec<Row> = now.into_iter().map(|(key, now)| Row { key, now, previous: None }).collect();
        let by_key: std::collections::HashMap<String, usize> =
            rows.iter().enumerate().map(|(place, row)| (row.key.clone(), place)).collect();
        for (key, previous) in earlier {
            match by_key.get(&key).and_then(|place| rows.get_mut(*place)) {
                Some(row) => row.previous = previous,
                None => rows.push(Row { key, now: None, previous }),
            }
        }
        for one in mend(&mut rows) {
            put(&transaction, &one)?;
        }
        complete(transaction).await?;
        Ok(rows)
    })
    .await
}

fn pairs<'a>(
    keys: &'a [JsValue],
    values: &'a [JsValue],
) -> impl Iterator<Item = (String, Option<String>)> + 'a {
    keys.iter().zip(values).filter_map(|(key, value)| Some((key.as_string()?, value.as_string())))
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
/// `StorageFault`: nothing was written.
pub async fn commit(changes: &[Change]) -> Result<Vec<Decision>, StorageFault> {
    patiently(async move {
        let database = database().await?;
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
        for decision in &decisions {
            if let Decision::Write(one, _) = decision {
                put(&transaction, one)?;
            }
        }
        complete(transaction).await?;
        Ok(decisions)
    })
    .await
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
pub async fn read(keys: &[String], copy: Copy) -> Result<Vec<(String, Option<String>)>, StorageFault> {
    patiently(async move {
        let database = database().await?;
        let transaction = begin(&database, TransactionMode::ReadOnly)?;
        let store = transaction.object_store(match copy {
            Copy::Now => NOW,
            Copy::Previous => PREVIOUS,
        })?;
        let mut asked = Vec::with_capacity(keys.len());
        for key in keys {
            asked.push(store.get(JsValue::from(key))?.into_future());
        }
        let mut rows = Vec::with_capacity(keys.len());
        for (key, stored) in keys.iter().zip(asked) {
            rows.push((key.clone(), stored.await?.and_then(|stored| stored.as_string())));
        }
        Ok(rows)
    })
    .await
}

impl fmt::Debug for Failed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}
