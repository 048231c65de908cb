import { useMay } from '../../app/Allowed'

/** The leaves of the money pages; the settings are the principal’s. */
export function useMoneyTabs() {
  const settings = useMay('managePractice')
  return [{ to: '/money', name: 'Invoices' }, ...(settings ? [{ to: '/money/settings', name: 'Settings' }] : [])]
}
