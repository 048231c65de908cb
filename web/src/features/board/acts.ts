import { createContext, useContext } from 'react'
import type { BoardVisitRowFragment } from '../../graphql/gen/graphql'

/** The job that a visit belongs to, as far as placing it needs. */
export interface JobToPlace {
  id: string
  number: string
  kind: string
  vessel: { id: string; name: string }
}

/** What is taken up: by the mouse, or by "Move to…". */
export type Taken =
  | { what: 'job'; job: JobToPlace }
  | { what: 'visit'; visit: BoardVisitRowFragment }
  | { what: 'lift'; spell: string }
  | { what: 'wash'; spell: string }

/** Where it is let go. */
export interface There {
  day?: string | undefined
  lead?: string | undefined
}

export interface Acts {
  may: boolean
  /** Opens the form that places or moves what is taken up. */
  put: (taken: Taken, there?: There) => void
  /** What the mouse carries at this moment. */
  carried: Taken | null
  carry: (taken: Taken | null) => void
}

export const ActsContext = createContext<Acts>({ may: false, put: () => {}, carried: null, carry: () => {} })

export const useActs = () => useContext(ActsContext)

/** The properties of something that may be dragged; keyboards take "Move to…" instead. */
export function draggable({ may, carry }: Acts, taken: Taken) {
  if (!may) return {}
  return {
    draggable: true,
    onDragStart: (event: React.DragEvent) => {
      event.dataTransfer.effectAllowed = 'move' as const
      event.dataTransfer.setData('text/plain', taken.what)
      event.stopPropagation()
      carry(taken)
    },
    onDragEnd: () => carry(null),
  }
}
