import { type ReactNode, useEffect } from 'react'
import { LightSign } from '../../ui/signs'
import { setTheme, themeName, themes, useTheme } from '../../ui/theme'
import s from './cover.module.css'

/** The cover of the book: title on the left over an engraved hull, what is asked on the right. */
export function Cover({ title, children }: { title: string; children: ReactNode }) {
  const [theme] = useTheme()
  useEffect(() => {
    document.title = `${title} · Boottop`
  }, [title])
  return (
    <div className={s.cover}>
      <header className={s.board}>
        <p className={s.kind}>Readings of glass-fibre hulls, kept with what they need to be compared</p>
        <p className={s.name}>Boottop</p>
        <Engraving />
        <p className={s.motto}>
          A number means something only beside the same place, the same hull’s dry topsides, and the visits before.
        </p>
      </header>
      <main className={s.ask} id="main">
        <h1>{title}</h1>
        {children}
        <p className={s.foot}>
          <span className="sr">Light</span>
          {themes.map((name) => (
            <button
              key={name}
              type="button"
              aria-pressed={theme === name}
              aria-label={themeName[name]}
              title={themeName[name]}
              onClick={() => setTheme(name)}
            >
              <LightSign theme={name} />
            </button>
          ))}
        </p>
      </main>
    </div>
  )
}

const stations = Array.from({ length: 17 }, (_, i) => 64 + i * 24)
/** Girth of the drawn hull at x, in the engraving's own units. */
const girth = (x: number) => 62 * Math.sin((Math.PI * Math.min(1, Math.max(0, (x - 52) / 420))) ** 1)

/** A plate without readings: the boat not yet surveyed. */
function Engraving() {
  const curve = (k: number, up: number) => stations.map((x, i) => `${i ? 'L' : 'M'}${x} ${up * k * girth(x)}`).join('')
  const side = (up: number) => (
    <g transform={`translate(0 ${up > 0 ? 84 : 236})`}>
      <path
        d={`M24 ${-46 * up}C180 ${-44 * up} 380 ${-48 * up} 512 ${-66 * up}C500 ${-36 * up} 486 ${-12 * up} 472 0H52C40 ${-4 * up} 30 ${-14 * up} 24 ${-20 * up}z`}
        className={s.land}
      />
      <path d={`M52 0${stations.map((x) => `L${x} ${up * girth(x)}`).join('')}L472 0z`} className={s.water} />
      {[0.15, 0.3, 0.45, 0.6, 0.75, 0.88].map((k) => (
        <path key={k} d={curve(k, up)} className={s.fair} />
      ))}
      {stations.map((x) => (
        <path key={x} d={`M${x} ${-46 * up}V${up * girth(x)}`} className={s.fair} />
      ))}
      <path d={`M52 0${stations.map((x) => `L${x} ${up * girth(x)}`).join('')}L472 0`} className={s.line} />
      <path
        d={`M24 ${-46 * up}C180 ${-44 * up} 380 ${-48 * up} 512 ${-66 * up}C500 ${-36 * up} 486 ${-12 * up} 472 0M52 0C40 ${-4 * up} 30 ${-14 * up} 24 ${-20 * up}V${-46 * up}`}
        className={s.line}
      />
      <path d="M52 0H472" className={s.line} />
    </g>
  )
  return (
    <svg className={s.plate} viewBox="0 0 536 320" aria-hidden="true">
      <rect x="1.5" y="1.5" width="533" height="317" className={s.line} />
      <rect x="6.5" y="6.5" width="523" height="307" className={s.thin} />
      <rect x="12.5" y="12.5" width="511" height="295" className={s.thin} />
      {Array.from({ length: 11 }, (_, i) => (
        <path key={i} d={`M${14 + i * 48} 9.5h24M${14 + i * 48} 310.5h24`} className={s.bar} />
      ))}
      {side(1)}
      {side(-1)}
    </svg>
  )
}
