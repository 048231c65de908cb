import { Fragment, Suspense, useEffect, useState } from 'react'
import { Link, NavLink, Outlet, useLocation, useNavigate } from 'react-router'
import { useQuery } from 'urql'
import { usePhotoPost } from '../features/findings/photoPost'
import { UnseenDocument } from '../graphql/gen/graphql'
import { Choice } from '../ui/Choice'
import { Waiting } from '../ui/Notice'
import { Sheet } from '../ui/Sheet'
import { LightSign, Pennant } from '../ui/signs'
import { setTheme, type Theme, themeName, themes, useTheme } from '../ui/theme'
import { useMay } from './Allowed'
import { Contained } from './Fault'
import { useSession } from './Session'
import { useViewer } from './useViewer'

const allFaces = [
  ['/today', 'Today'],
  ['/board', 'Board'],
  ['/vessels', 'Vessels'],
  ['/jobs', 'Jobs'],
  ['/reports', 'Reports'],
  ['/reinspections', 'Due'],
  ['/money', 'Money'],
  ['/people', 'People'],
  ['/instruments', 'Instruments'],
] as const

/** A guest sees the jobs he or she was let into, and neither the diary nor the practice's people and tools. */
function useFaces() {
  const guest = useViewer()?.roles.every((role) => role === 'guest') ?? false
  const money = useMay('readMoney')
  if (guest) return allFaces.filter(([to]) => ['/today', '/vessels', '/jobs'].includes(to))
  return money ? allFaces : allFaces.filter(([to]) => to !== '/money')
}

const noticesName = (unseen: number) => (unseen ? `Notices, ${unseen} new` : 'Notices')

/**
 * How many notices are new; asked again every few minutes while the page is in sight, and when it comes back into
 * sight: the session is renewed with it, before a file is fetched by a plain link.
 */
function useUnseen(): number {
  const [{ data }, again] = useQuery({ query: UnseenDocument })
  useEffect(() => {
    const ask = () => {
      if (document.visibilityState === 'visible') again({ requestPolicy: 'network-only' })
    }
    const timer = setInterval(ask, 180_000)
    document.addEventListener('visibilitychange', ask)
    return () => {
      clearInterval(timer)
      document.removeEventListener('visibilitychange', ask)
    }
  }, [again])
  return data?.notices.unseen ?? 0
}

const nextTheme = (theme: Theme): Theme => themes[(themes.indexOf(theme) + 1) % themes.length] ?? 'paper'

/** The office face: a page, the thumb index cut into its right edge, the bottom index on a phone. */
export function Shell() {
  const { pathname } = useLocation()
  const [theme] = useTheme()
  const [more, setMore] = useState(false)
  const faces = useFaces()
  const unseen = useUnseen()
  usePhotoPost()
  return (
    <div className="shell">
      <a className="skip" href="#main">
        To the page
      </a>
      <div className="page">
        <Contained at={pathname}>
          <Suspense fallback={<PageWaiting />}>
            {/* Another boat on the same page is another page: what is typed or open of one is not the other's. */}
            <Fragment key={pathname}>
              <Outlet />
            </Fragment>
          </Suspense>
        </Contained>
      </div>
      <nav className="index" aria-label="Boottop">
        {faces.map(([to, name]) => (
          <NavLink key={to} to={to}>
            {name}
          </NavLink>
        ))}
        <NavLink
          to="/notices"
          className="told"
          data-new={unseen > 0 || undefined}
          aria-label={noticesName(unseen)}
          title={noticesName(unseen)}
        >
          <Pennant flown={unseen > 0} />
          {unseen > 0 && <span aria-hidden="true">{unseen > 99 ? '99+' : unseen}</span>}
        </NavLink>
        <button
          type="button"
          title={`${themeName[theme]}; next ${themeName[nextTheme(theme)]}`}
          aria-label={`Light: ${themeName[theme]}. Change to ${themeName[nextTheme(theme)]}`}
          onClick={() => setTheme(nextTheme(theme))}
        >
          <LightSign theme={theme} />
        </button>
        <button
          type="button"
          aria-haspopup="dialog"
          aria-label="You and the practice"
          title="You and the practice"
          onClick={() => setMore(true)}
        >
          <span aria-hidden="true">⋯</span>
        </button>
      </nav>
      <Thumbs onMore={() => setMore(true)} more={more} unseen={unseen} />
      <More open={more} onClose={() => setMore(false)} unseen={unseen} />
    </div>
  )
}

/** On a phone the index lies at the bottom; over a hull it holds the parts of her page instead. */
function Thumbs({ more, onMore, unseen }: { more: boolean; onMore: () => void; unseen: number }) {
  const { pathname, search, hash } = useLocation()
  const hull = /^\/vessels\/[^/]+$/.test(pathname)
  return (
    <nav className="thumbs" aria-label={hull ? 'This hull' : 'Boottop'}>
      <NavLink to="/today">Today</NavLink>
      {hull ? (
        (['Hull', 'Says', 'Visits'] as const).map((name) => {
          const to = name === 'Hull' ? '#main' : `#${name.toLowerCase()}`
          const here = hash === to || (name === 'Hull' && !['#says', '#visits'].includes(hash))
          return (
            <a key={name} href={`${pathname}${search}${to}`} aria-current={here ? 'true' : undefined}>
              {name}
            </a>
          )
        })
      ) : (
        <>
          <NavLink to="/vessels">Vessels</NavLink>
          <NavLink to="/jobs">Jobs</NavLink>
          <button type="button" aria-haspopup="dialog" aria-expanded={more} onClick={onMore}>
            <span>
              More
              {unseen > 0 && (
                <>
                  <span aria-hidden="true"> · {unseen}</span>
                  <span className="sr">, {noticesName(unseen).toLowerCase()}</span>
                </>
              )}
            </span>
          </button>
        </>
      )}
    </nav>
  )
}

export function PageWaiting() {
  return (
    <div style={{ padding: '64px 24px' }}>
      <Waiting label="Opening the page" />
    </div>
  )
}

/** Everything that is not a page of the book: light, the practice, leaving. */
function More({ open, onClose, unseen }: { open: boolean; onClose: () => void; unseen: number }) {
  const faces = useFaces()
  const [theme] = useTheme()
  const { signOut } = useSession()
  const viewer = useViewer()
  const navigate = useNavigate()
  const figures = useMay('readFigures')
  return (
    <Sheet title="You and the practice" open={open} onClose={onClose}>
      <div style={{ display: 'grid', gap: 16 }}>
        {viewer && (
          <p>
            <b>{viewer.member.name}</b>, {viewer.roles.join(', ')}
            <br />
            <span className="note">{viewer.practice.name}</span>
          </p>
        )}
        <div className="field">
          <span className="label">Light</span>
          <div>
            <Choice
              roomy
              label="Light"
              value={theme}
              onChange={setTheme}
              options={themes.map((value) => ({ value, name: themeName[value] }))}
            />
          </div>
        </div>
        <ul className="plain-list more-list">
          {[
            ['/notices', noticesName(unseen)] as const,
            ...faces.filter(([to]) => to !== '/today' && to !== '/vessels'),
            ...(figures ? [['/figures', 'Figures of the practice'] as const] : []),
            ['/settings', 'Settings'] as const,
          ].map(([to, name]) => (
            <li key={to}>
              <Link to={to} onClick={onClose}>
                {name}
              </Link>
            </li>
          ))}
        </ul>
        <div className="buttons">
          <button
            type="button"
            className="plain"
            onClick={async () => {
              onClose()
              await signOut()
              navigate('/sign-in')
            }}
          >
            Sign out
          </button>
        </div>
      </div>
    </Sheet>
  )
}
