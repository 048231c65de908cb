import { lazy, Suspense } from 'react'
import { BrowserRouter, Navigate, Route, Routes, useLocation } from 'react-router'
import { NotFound } from './Fault'
import { SessionProvider, useSession } from './Session'
import { PageWaiting, Shell } from './Shell'

/** One chunk a page: a client opening a report loads nothing of the office, and the other way round. */
const SignIn = lazy(() => import('../features/sign-in/SignIn'))
const Reset = lazy(() => import('../features/sign-in/Reset'))
const Invitation = lazy(() => import('../features/sign-in/Invitation'))
const Today = lazy(() => import('../features/today/TodayPage'))
const Board = lazy(() => import('../features/board/BoardPage'))
const Vessels = lazy(() => import('../features/vessels/VesselsPage'))
const Brief = lazy(() => import('../features/vessels/BriefPage'))
const Advice = lazy(() => import('../features/vessels/AdvicePage'))
const VesselReports = lazy(() => import('../features/vessels/VesselReportsPage'))
const Resurvey = lazy(() => import('../features/history/ResurveyPage'))
const Causes = lazy(() => import('../features/causes/CausesPage'))
const Visit = lazy(() => import('../features/visits/VisitPage'))
const Pass = lazy(() => import('../features/readings/PassPage'))
const BlankSheet = lazy(() => import('../features/readings/BlankSheet'))
const Jobs = lazy(() => import('../features/jobs/JobsPage'))
const Job = lazy(() => import('../features/jobs/JobPage'))
const JobBrief = lazy(() => import('../features/jobs/BriefPage'))
const Drying = lazy(() => import('../features/drying/DryingPage'))
const Enquiries = lazy(() => import('../features/engagements/EnquiriesPage'))
const NewEnquiry = lazy(() => import('../features/engagements/NewEnquiryPage'))
const Enquiry = lazy(() => import('../features/engagements/EnquiryPage'))
const SurveyBook = lazy(() => import('../features/surveybook/SurveyBookPage'))
const Letter = lazy(() => import('../features/followthrough/LetterPage'))
const Reports = lazy(() => import('../features/reports/ReportsPage'))
const Report = lazy(() => import('../features/reports/ReportPage'))
const ReportHistory = lazy(() => import('../features/reports/HistoryPage'))
const Reinspections = lazy(() => import('../features/reinspections/ReinspectionsPage'))
const ReinspectionRules = lazy(() => import('../features/reinspections/RulesPage'))
const Yard = lazy(() => import('../features/yards/YardPage'))
const HaulOut = lazy(() => import('../features/yards/HaulOutPage'))
const People = lazy(() => import('../features/people/PeoplePage'))
const Person = lazy(() => import('../features/people/PersonPage'))
const Doubles = lazy(() => import('../features/people/DoublesPage'))
const Instruments = lazy(() => import('../features/instruments/InstrumentsPage'))
const InstrumentBook = lazy(() => import('../features/instruments/InstrumentPage'))
const HalfHour = lazy(() => import('../features/instruments/HalfHourPage'))
const EnterKit = lazy(() => import('../features/instruments/EnterKit'))
const EnterCross = lazy(() => import('../features/instruments/EnterCross'))
const Money = lazy(() => import('../features/money/MoneyPage'))
const MoneySettings = lazy(() => import('../features/money/MoneySettingsPage'))
const Invoice = lazy(() => import('../features/money/InvoicePage'))
const Notices = lazy(() => import('../features/notices/NoticesPage'))
const Figures = lazy(() => import('../features/figures/FiguresPage'))
const Unsubscribe = lazy(() => import('../features/outside/UnsubscribePage'))
const Settings = lazy(() => import('../features/settings/SettingsPage'))
const Retention = lazy(() => import('../features/privacy/RetentionPage'))
const DiaryFigures = lazy(() => import('../features/settings/FiguresPage'))
const Wordings = lazy(() => import('../features/reports/WordingsPage'))
const Shared = lazy(() => import('../features/outside/SharedPage'))
const My = lazy(() => import('../features/outside/MyPage'))
const Terms = lazy(() => import('../features/outside/TermsPage'))
const YardSlots = lazy(() => import('../features/outside/YardPage'))
const IssuedBytes = lazy(() => import('../features/outside/IssuedPage'))

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
            <Route path="/reset/:token?" element={<Reset />} />
            <Route path="/invitation/:token" element={<Invitation />} />
            <Route path="/s/:token" element={<Shared />} />
            <Route path="/my/:key?" element={<My />} />
            <Route path="/t/:token" element={<Terms />} />
            <Route path="/y/:token" element={<YardSlots />} />
            <Route path="/unsubscribe/:token" element={<Unsubscribe />} />
            <Route path="/as-issued" element={<IssuedBytes />} />
            <Route element={<Inside />}>
              <Route index element={<Navigate to="/today" replace />} />
              <Route path="/today" element={<Today />} />
              <Route path="/board" element={<Board />} />
              <Route path="/vessels" element={<Vessels />} />
              <Route path="/vessels/:id" element={<Resurvey />} />
              <Route path="/vessels/:id/brief" element={<Brief />} />
              <Route path="/vessels/:id/recommendations" element={<Advice />} />
              <Route path="/vessels/:id/reports" element={<VesselReports />} />
              <Route path="/vessels/:id/causes" element={<Causes />} />
              <Route path="/visits/:id" element={<Visit />} />
              <Route path="/passes/:id" element={<Pass />} />
              <Route path="/passes/:id/sheet" element={<BlankSheet />} />
              <Route path="/engagements" element={<Enquiries />} />
              <Route path="/engagements/new" element={<NewEnquiry />} />
              <Route path="/engagements/:id" element={<Enquiry />} />
              <Route path="/jobs" element={<Jobs />} />
              <Route path="/jobs/:id" element={<Job />} />
              <Route path="/jobs/:id/brief" element={<JobBrief />} />
              <Route path="/jobs/:id/drying" element={<Drying />} />
              <Route path="/jobs/:id/survey" element={<SurveyBook />} />
              <Route path="/letters/:id" element={<Letter />} />
              <Route path="/reports" element={<Reports />} />
              <Route path="/reports/:id" element={<Report />} />
              <Route path="/reports/:id/history" element={<ReportHistory />} />
              <Route path="/reinspections" element={<Reinspections />} />
              <Route path="/reinspections/rules" element={<ReinspectionRules />} />
              <Route path="/money" element={<Money />} />
              <Route path="/money/settings" element={<MoneySettings />} />
              <Route path="/invoices/:id" element={<Invoice />} />
              <Route path="/notices" element={<Notices />} />
              <Route path="/figures" element={<Figures />} />
              <Route path="/people" element={<People />} />
              <Route path="/people/:id" element={<Person />} />
              <Route path="/people/doubles" element={<Doubles />} />
              <Route path="/yards/:id" element={<Yard />} />
              <Route path="/haul-outs/:spell" element={<HaulOut />} />
              <Route path="/instruments" element={<Instruments />} />
              <Route path="/instruments/half-hour" element={<HalfHour />} />
              <Route path="/instruments/:id" element={<InstrumentBook />} />
              <Route path="/instruments/:id/kit" element={<EnterKit />} />
              <Route path="/instruments/:id/beside" element={<EnterCross />} />
              <Route path="/settings" element={<Settings />} />
              <Route path="/settings/figures" element={<DiaryFigures />} />
              <Route path="/settings/wordings" element={<Wordings />} />
              <Route path="/settings/retention" element={<Retention />} />
              <Route path="*" element={<NotFound />} />
            </Route>
          </Routes>
        </Suspense>
      </BrowserRouter>
    </SessionProvider>
  )
}
