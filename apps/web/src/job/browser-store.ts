/** The browser's store of this page: what is kept under a name, over reloads. Works in the page and in a worker. */
const DATABASE = 'haunch';
const SHELF = 'kept';

/** Names under which things are kept. */
export type Kept = 'job' | 'set aside' | 'result' | 'settings' | 'day book';

const request = <T>(r: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    r.onsuccess = () => resolve(r.result);
    r.onerror = () => reject(r.error);
  });

let opening: Promise<IDBDatabase> | undefined;

function open(): Promise<IDBDatabase> {
  opening ??= new Promise<IDBDatabase>((resolve, reject) => {
    const r = indexedDB.open(DATABASE, 1);
    r.onupgradeneeded = () => r.result.createObjectStore(SHELF);
    r.onsuccess = () => {
      // Another tab with a newer page may need to change the store.
      r.result.onversionchange = () => {
        r.result.close();
        opening = undefined;
      };
      resolve(r.result);
    };
    r.onerror = () => reject(r.error);
  });
  opening.catch(() => {
    opening = undefined;
  });
  return opening;
}

/** What is kept under a name; undefined where nothing is. Rejects where the browser lets nothing be kept. */
export async function take(name: Kept): Promise<unknown> {
  const db = await open();
  return request(db.transaction(SHELF).objectStore(SHELF).get(name));
}

/** Keeps a value, in place of what was there; settles once it is really stored. Rejects with what the browser says, such as that it is full. */
export async function keep(name: Kept, value: unknown): Promise<void> {
  const db = await open();
  const transaction = db.transaction(SHELF, 'readwrite');
  const stored = new Promise<void>((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error);
    transaction.onerror = () => reject(transaction.error);
  });
  transaction.objectStore(SHELF).put(value, name);
  return stored;
}

/** Lets go of what is kept under a name. */
export async function forget(name: Kept): Promise<void> {
  const db = await open();
  await request(db.transaction(SHELF, 'readwrite').objectStore(SHELF).delete(name));
}

/** Whether an error says that the browser has no room left. */
export const isFull = (e: unknown): boolean => e instanceof DOMException && e.name === 'QuotaExceededError';
