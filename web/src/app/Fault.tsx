import { Component, type ReactNode } from 'react'
import { Link } from 'react-router'
import type { CombinedError } from 'urql'
import { codeOf } from '../graphql/client'
import { Notice } from '../ui/Notice'
import { Running } from '../ui/Running'

/** Catches what went wrong while drawing a page, so that the index still works. */
export class Contained extends Component<{ children: ReactNode; at: string }, { fault: Error | null; at: string }> {
  override state = { fault: null as Error | null, at: this.props.at }
  static getDerivedStateFromError(fault: Error) {
    return { fault }
  }
  /** Going to another page is the usual way out. */
  static getDerivedStateFromProps(props: { at: string }, state: { at: string }) {
    return props.at === state.at ? null : { fault: null, at: props.at }
  }
  override render() {
    const { fault } = this.state
    if (!fault) return this.props.children
    const stale = /dynamically imported module|module script/i.test(fault.message)
    return (
      <>
        <Running title={stale ? 'A newer edition' : 'This page failed'} />
        <main className="page-body" id="main">
          <Notice
            bad={!stale}
            ways={
              <button type="button" className="act" onClick={() => location.reload()}>
                Load the page again
              </button>
            }
          >
            {stale
              ? 'The service was renewed while this page was open. What was sent is kept; load the page again.'
              : `Nothing that the service had kept is lost. What it said: ${fault.message}`}
          </Notice>
        </main>
      </>
    )
  }
}

/** An answer that did not come, in words, with a way to ask again. */
export function Failed({ error, again }: { error: CombinedError; again?: () => void }) {
  const code = codeOf(error)
  const words =
    code === 'Offline'
      ? 'The service cannot be reached. Check the connection; what you see elsewhere on this page may be old.'
      : (error.graphQLErrors[0]?.message ?? 'The service gave no answer.')
  return (
    <Notice
      bad
      ways={
        again && (
          <button type="button" className="plain" onClick={again}>
            Try again
          </button>
        )
      }
    >
      {words}
    </Notice>
  )
}

export function NotFound() {
  return (
    <>
      <Running title="No such page">off the chart</Running>
      <main className="page-body" id="main">
        <p className="lead measure">
          There is nothing at this address. A vessel, job or report that belongs to another practice, or that you may
          not see, answers the same.
        </p>
        <p className="buttons" style={{ marginTop: 16 }}>
          <Link className="act" to="/today">
            Go to today
          </Link>
          <Link className="plain" to="/vessels">
            Find a vessel
          </Link>
        </p>
      </main>
    </>
  )
}
