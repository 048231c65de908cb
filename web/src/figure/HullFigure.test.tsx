import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { fromDims } from './defaults'
import { HullFigure } from './HullFigure'
import { ChangeKey, Mark, Sure, ValueKey } from './marks'
import { Silhouette } from './Silhouette'

const { spec } = fromDims('finKeelSloop', { loa: 10.55, beam: 3.5, draught: 1.75 })
const readings = [
  { id: 'a', name: 'Port 13/3', side: 'port', along: 6.5, down: 0.75, step: 4, value: '35' },
  { id: 'b', name: 'Port 12/3', side: 'port', along: 6, down: 0.75, step: -1, gap: 'unread' },
] as const

it('is a picture with a name where nothing can be chosen', () => {
  const html = renderToStaticMarkup(<HullFigure spec={spec} width={800} readings={readings} label="Tamsel" />)
  expect(html).toContain('role="img" aria-label="Tamsel"')
  expect(html).not.toContain('tabindex')
  expect(html).not.toMatch(/NaN|undefined|Infinity/)
})

it('is a list of places with one stop for the Tab key where they can', () => {
  const html = renderToStaticMarkup(
    <HullFigure spec={spec} width={800} readings={readings} chosen="b" onChoose={() => {}} label="Tamsel" />,
  )
  expect(html).toContain('role="listbox"')
  expect(html.match(/role="option"/g)).toHaveLength(2)
  expect(html.match(/tabindex="0"/gi)).toHaveLength(1)
  expect(html).toMatch(
    /data-place="b" role="option" tabindex="0" aria-selected="true" aria-label="Port 12\/3, not reached"/i,
  )
  expect(html).toContain('class="bearing"')
})

it('keeps pattern ids apart when two figures share a page', () => {
  const html = renderToStaticMarkup(
    <>
      <HullFigure spec={spec} width={400} readings={readings} />
      <HullFigure spec={spec} width={400} readings={readings} />
    </>,
  )
  const ids = [...html.matchAll(/<pattern id="([^"]+)"/g)].map((m) => m[1])
  expect(ids.length).toBeGreaterThan(3)
  expect(new Set(ids).size).toBe(ids.length)
})

it('draws an assumed outline, and says so, where no dimensions are known', () => {
  for (const none of [null, undefined, { lwl: 0 }, 'hull'])
    expect(renderToStaticMarkup(<HullFigure spec={none} width={800} readings={readings} />)).toContain(
      'The outline is assumed',
    )
})

it('shows a window around a place', () => {
  const html = renderToStaticMarkup(
    <HullFigure spec={spec} width={1500} readings={readings} around={{ place: 'a', width: 360, height: 180 }} />,
  )
  expect(html).toMatch(/viewBox="[\d.]+ [\d.]+ 360 180" width="360" height="180"/)
})

it('has signs and legends without figures gone wrong', () => {
  const html = renderToStaticMarkup(
    <>
      <Silhouette spec={spec} />
      <Silhouette spec={null} />
      <Mark kind="stop" label="Stop and make safe" />
      <Sure how="indicated" />
      <ValueKey words={['under 4', '4 to 9', '9 to 15', '15 to 22', '22 and over']} />
      <ValueKey words={['under 4', '4 to 9', '9 to 15', '15 to 22', '22 and over']} map small />
      <ChangeKey />
    </>,
  )
  expect(html).toContain('role="img" aria-label="Stop and make safe"')
  expect(html).not.toMatch(/NaN|undefined/)
})
