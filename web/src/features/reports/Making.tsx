import { useEffect } from 'react'
import { useQuery } from 'urql'
import { ReportMakingDocument, type ReportMakingQuery } from '../../graphql/gen/graphql'
import { plural } from '../../model/words'

type Far = NonNullable<ReportMakingQuery['reportMaking']>

/** How far the job has got that makes a report's page and PDF, in numbers, asked for while it runs. */
export function Making({ report }: { report: string }) {
  const [{ data }, again] = useQuery({
    query: ReportMakingDocument,
    variables: { report },
    requestPolicy: 'network-only',
  })
  const far = data?.reportMaking
  const made = far?.made ?? false
  useEffect(() => {
    if (made) return
    const timer = setInterval(() => again({ requestPolicy: 'network-only' }), 600)
    return () => clearInterval(timer)
  }, [made, again])
  const [value, most] = share(far)
  return (
    <span role="status" style={{ display: 'block' }}>
      <progress value={value} max={most} aria-label="Page and PDF made" /> <span className="small">{words(far)}</span>
    </span>
  )
}

/** The page counts its photos, the PDF its parts. */
function share(far: Far | null | undefined): [value: number, most: number] {
  if (!far) return [0, 1]
  if (far.made) return [1, 1]
  return far.step === 'page' ? [far.photos, far.ofPhotos + far.ofParts || 1] : [far.parts, far.ofParts || 1]
}

function words(far: Far | null | undefined): string {
  if (!far) return 'Waits for its turn.'
  if (far.made) return 'Made.'
  const photos = far.ofPhotos > 0 ? `${far.photos} of ${plural(far.ofPhotos, 'photo')}` : ''
  if (far.step === 'page') return photos ? `Page: ${photos}.` : 'The page.'
  return `PDF: ${[`${far.parts} of ${plural(far.ofParts, 'part')}`, photos, plural(far.pages, 'page')].filter(Boolean).join(', ')} so far.`
}
