/** The way on in a long list, where there is more of it. */
export function NextFifty({
  page,
  onNext,
}: {
  page: { hasNextPage: boolean; endCursor?: string | null } | undefined
  onNext: (after: string | null) => void
}) {
  if (!page?.hasNextPage) return null
  return (
    <p style={{ paddingTop: 12 }}>
      <button type="button" className="plain" onClick={() => onNext(page.endCursor ?? null)}>
        The next fifty
      </button>
    </p>
  )
}
