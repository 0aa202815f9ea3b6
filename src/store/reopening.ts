import { type DBSchema, type IDBPDatabase, type OpenDBCallbacks, openDB } from 'idb'

/**
 * The way to a database of the browser: opened at the first call, and anew at the next one after a failure or after
 * the browser has closed it.
 */
export function reopening<T extends DBSchema>(
  name: string,
  upgrade: NonNullable<OpenDBCallbacks<T>['upgrade']>,
): () => Promise<IDBPDatabase<T>> {
  let connection: Promise<IDBPDatabase<T>> | null = null
  return () => {
    if (!connection) {
      const opening = openDB<T>(name, 1, {
        upgrade,
        terminated() {
          connection = null
        },
      })
      opening.catch(() => {
        connection = null
      })
      connection = opening
    }
    return connection
  }
}
