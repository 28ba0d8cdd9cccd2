/**
 * As long as this worker lives it holds a lock of its name: whoever gets that lock knows that it is gone. Fulfilled once it is held, or where
 * the browser has no locks.
 */
export const holdLife = (): Promise<true> =>
  new Promise((resolve) => {
    if (!navigator.locks) return resolve(true);
    void navigator.locks.request(self.name, () => {
      resolve(true);
      return new Promise(() => undefined);
    });
  });

/**
 * Tells once when the worker of a name is gone: a browser that ends one says so in no other way. To be called once the worker holds its lock;
 * `signal` ends the watch.
 */
export function watchLife(name: string, signal: AbortSignal, gone: () => void): void {
  navigator.locks?.request(name, { signal }, gone).catch(() => undefined);
}
