import type { ReactNode } from 'react'
import { type Action, actions } from '../model/actions'
import { useViewer } from './useViewer'

/** True where the viewer may; false too while it is not yet known. The service asks again whatever is shown. */
export function useMay(to: Action): boolean {
  return useViewer()?.may.includes(actions[to]) ?? false
}

/** Shows a way to do something only to those who may. */
export function Allowed({ to, children }: { to: Action; children: ReactNode }) {
  return useMay(to) ? children : null
}
