import { useMay } from '../../app/Allowed'

/** The leaves of the money pages; figures and settings are the principal’s. */
export function useMoneyTabs() {
  const settings = useMay('managePractice')
  const figures = useMay('readFigures')
  return [
    { to: '/money', name: 'Invoices' },
    ...(figures ? [{ to: '/figures', name: 'Figures' }] : []),
    ...(settings ? [{ to: '/money/settings', name: 'Settings' }] : []),
  ]
}
