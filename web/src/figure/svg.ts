import { hatches, type Line, type Mark, type Pattern, type Plate } from './plate'

/** A plate as SVG text, with the class names of figure.css. `id` must differ between the plates of a page. */
export function toSVG(plate: Plate, id: string): string {
  const { width, height, label, marks } = plate
  let body = ''
  marks.forEach((m, i) => {
    if (m.place && marks[i - 1]?.place !== m.place) body += `<g data-place="${escaped(m.place)}">`
    body += mark(m, id)
    if (m.place && marks[i + 1]?.place !== m.place) body += '</g>'
  })
  const [w, h] = [px(width), px(height)]
  return `<svg xmlns="http://www.w3.org/2000/svg" class="${className(plate)}" viewBox="0 0 ${w} ${h}" width="${w}" height="${h}" role="img" aria-label="${escaped(label)}">${patterns(marks, id)}${body}</svg>`
}

export const className = ({ mode, small }: Pick<Plate, 'mode' | 'small'>) => `hull ${mode}${small ? ' small' : ''}`

/** To a tenth of a pixel. */
export const px = (v = 0) => String(Math.round(v * 10) / 10 || 0)

/** The patterns that a list of marks uses. */
export const used = (marks: readonly Mark[]) =>
  (Object.keys(hatches) as Pattern[]).filter((f) => marks.some((m) => m.fill === f))

export const pathData = ({ lines = [], closed }: Mark) =>
  lines.map((l) => `M${l[0] ? pair(l[0]) : ''}${rest(l)}${closed ? 'z' : ''}`).join('')

const pair = ([x, y]: Line[number]) => `${px(x)} ${px(y)}`
const rest = (l: Line) => (l.length > 1 ? `L${l.slice(1).map(pair).join(' ')}` : '')

function patterns(marks: readonly Mark[], id: string): string {
  return used(marks)
    .map((f) => {
      const { angle, pitch, class: cls } = hatches[f]
      return `<pattern id="${escaped(id)}-${f}" width="${pitch}" height="${pitch}" patternUnits="userSpaceOnUse" patternTransform="rotate(${angle})"><rect width="${pitch}" height="${pitch}" class="hatch-ground"/><path d="M0 ${pitch / 2}h${pitch}" class="${cls}"/></pattern>`
    })
    .join('')
}

function mark(m: Mark, id: string): string {
  const fill = m.fill ? ` fill="url(#${escaped(id)}-${m.fill})"` : ''
  const cls = ` class="${m.class}"${fill}`
  switch (m.kind) {
    case 'path':
      return `<path d="${pathData(m)}"${cls}/>`
    case 'circle':
      return `<circle cx="${px(m.x)}" cy="${px(m.y)}" r="${px(m.r)}"${cls}/>`
    case 'rect':
      return `<rect x="${px(m.x)}" y="${px(m.y)}" width="${px(m.w)}" height="${px(m.h)}"${cls}/>`
    case 'text': {
      const anchor = m.anchor === 'start' ? '' : ` text-anchor="${m.anchor}"`
      return `<text x="${px(m.x)}" y="${px(m.y)}" font-size="${px(m.size)}"${anchor}${cls}>${escaped(m.text ?? '')}</text>`
    }
  }
}

const escaped = (s: string) =>
  s.replace(/[&<>"']/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&#34;', "'": '&#39;' })[c] ?? c)
