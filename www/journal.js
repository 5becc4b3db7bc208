// What is kept in local storage, once more in the browser's database. A browser writes its local storage to the disk only
// now and then, at last once a minute: one that is killed, or loses its power, would lose that much of a lesson.

const NAME = "turnback";
const RECORDS = "kept";
/** Under this key stands when everything was to be forgotten. */
export const FORGOTTEN = "forgotten";
/** A database that takes longer than this when all else is there is done without, ms: one that hangs must not hold a lesson up. */
const PATIENCE_MS = 3000;

/** @typedef {{journal: Journal | null, entries: [string, string][]}} Opened no journal where the browser lets us have none */
/** @type {Opened} */
const NONE = { journal: null, entries: [] };

/** The journal. */
export class Journal {
  /** @param {IDBDatabase} database */
  constructor(database) {
    this.database = database;
  }

  /** Opens it and reads what stands in it. @returns {Promise<Opened>} */
  static open() {
    return Journal.read().catch(() => NONE);
  }

  /** Waits for it when nothing else is waited for: a slow machine has long been busy with the rest. @param {Promise<Opened>} opened */
  static inTime(opened) {
    /** @type {Promise<Opened>} */
    const late = new Promise((done) => window.setTimeout(() => done(NONE), PATIENCE_MS));
    return Promise.race([opened, late]);
  }

  /** @returns {Promise<{journal: Journal, entries: [string, string][]}>} @throws where there is no database to be had */
  static async read() {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(RECORDS);
    const journal = new Journal(await answer(asked));
    const records = journal.records("readonly");
    const [keys, texts] = await Promise.all([answer(records.getAllKeys()), answer(records.getAll())]);
    return { journal, entries: keys.map((key, index) => [String(key), String(texts[index])]) };
  }

  /** @param {IDBTransactionMode} mode @returns {IDBObjectStore} */
  records(mode) {
    return this.database.transaction(RECORDS, mode).objectStore(RECORDS);
  }

  /** @param {string} key @param {string} text */
  put(key, text) {
    this.write((records) => records.put(text, key));
  }

  /** @param {string} key */
  remove(key) {
    this.write((records) => records.delete(key));
  }

  /**
   * Takes everything out, and puts down that it was wanted: the storage may still have it when the browser is killed.
   * @param {number} at ms, as lessons are stamped
   * @returns {Promise<void>} when it is gone
   */
  forget(at) {
    return this.write((records) => {
      records.clear();
      return records.put(String(at), FORGOTTEN);
    });
  }

  /** @param {(records: IDBObjectStore) => IDBRequest} deed @returns {Promise<void>} it never fails: the storage says what is not kept */
  async write(deed) {
    try {
      const records = this.records("readwrite");
      const done = answer(deed(records));
      // Now, not when the page has heard that it went well: it may be killed before.
      records.transaction.commit();
      await done;
    } catch (reason) {
      console.info("not in the journal:", reason);
    }
  }
}

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
function answer(request) {
  return new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}
