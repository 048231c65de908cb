/** A photo on its way. What has been reached stays reached: sent again, it is kept once. */
export interface Sending {
  readonly photo: string
  readonly mutation: string
  readonly file: File
  /** Whose it is: nobody else who signs in on this device sends it. */
  readonly by: string
  readonly visit: string
  readonly vessel: string
  /** Seconds that the camera's clock was ahead; null of a phone's own photo. */
  readonly ahead: number | null
  /** Why it was taken where no leave covers it. */
  why: string
  original?: string
  device?: string | null
}

const name = 'boottop-photos'
const kept = 'waiting'

/**
 * Photos that the service does not have yet, kept on this device: a page that is left, a phone that puts the tab away
 * and a store of files that is down lose none of them. Every call fails where the browser keeps nothing.
 */
export const waitingPhotos = {
  async put(photo: Sending): Promise<void> {
    await inStore('readwrite', (store) => store.put(photo, photo.photo))
  },
  async take(photo: string): Promise<void> {
    await inStore('readwrite', (store) => store.delete(photo))
  },
  async of(person: string): Promise<Sending[]> {
    const all = await inStore('readonly', (store) => store.getAll() as IDBRequest<Sending[]>)
    return all.filter(({ by }) => by === person)
  },
}

async function inStore<T>(mode: IDBTransactionMode, act: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const book = await opened()
  try {
    return await new Promise<T>((done, failed) => {
      const change = book.transaction(kept, mode)
      const asked = act(change.objectStore(kept))
      // What is told as kept is on the disk: a request that went well may still be undone with its transaction.
      change.oncomplete = () => done(asked.result)
      change.onerror = change.onabort = () => failed(change.error ?? new Error('The browser kept nothing.'))
    })
  } finally {
    book.close()
  }
}

function opened(): Promise<IDBDatabase> {
  return new Promise((done, failed) => {
    const asked = indexedDB.open(name, 1)
    asked.onupgradeneeded = () => asked.result.createObjectStore(kept)
    asked.onsuccess = () => done(asked.result)
    asked.onerror = () => failed(asked.error ?? new Error('The browser keeps nothing here.'))
  })
}
