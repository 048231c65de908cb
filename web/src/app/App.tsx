import { lazy, Suspense } from 'react'
import { BrowserRouter, Navigate, Route, Routes, useLocation } from 'react-router'
import { NotFound } from './Fault'
import { SessionProvider, useSession } from './Session'
import { PageWaiting, Shell } from './Shell'

/** One chunk a page: a client opening a report loads nothing of the office, and the other way round. */
const SignIn = lazy(() => import('../features/sign-in/SignIn'))
const ResetPage = lazy(() => import('../features/sign-in/Reset'))
const InvitationPage = lazy(() => import('../features/sign-in/Invitation'))

/** Pages that need a session send the reader to sign in and remember where they were going. */
function Inside() {
  const { out } = useSession()
  const { pathname, search } = useLocation()
  if (out) return <Navigate to={`/sign-in?to=${encodeURIComponent(pathname + search)}`} replace />
  return <Shell />
}

export function App() {
  return (
    <SessionProvider>
      <BrowserRouter>
        <Suspense fallback={<PageWaiting />}>
          <Routes>
            <Route path="/sign-in" element={<SignIn />} />
            <Route path="/reset/:token?" element={<ResetPage />} />
            <Route path="/invitation/:token" element={<InvitationPage />} />
            <Route element={<Inside />}>
              <Route index element={<Navigate to="/today" replace />} />
              <Route path="*" element={<NotFound />} />
            </Route>
          </Routes>
        </Suspense>
      </BrowserRouter>
    </SessionProvider>
  )
}
