/** Demonstration data say so at the foot of every page. */
export function Invented({ show }: { show: boolean | undefined }) {
  return show ? <p className="invented page-foot">An invented harbour, practice, boats and people.</p> : null
}
