import { plainUnits, setOut } from '../../model/gate'
import { plural } from '../../model/words'
import s from './resurvey.module.css'
import { Sentences, type SentencesProps } from './Says'
import type { Told } from './told'

/** What one more like visit could show; or what is to be measured first, and how. */
export function Ahead({ ahead, toMeasure, ...says }: Pick<Told, 'ahead' | 'toMeasure'> & Omit<SentencesProps, 'list'>) {
  return (
    <section aria-labelledby="ahead-head">
      <h2 id="ahead-head">What the next visit could show</h2>
      {ahead ? (
        <>
          <Sentences {...says} list={ahead.statements.map(setOut)} />
          <table className={s.zones}>
            <caption className="sr">What one more visit could show, scale units</caption>
            <thead>
              <tr>
                <td />
                <th scope="col" className="num">
                  called changed from
                </th>
                <th scope="col" className="num">
                  found four times in five
                </th>
              </tr>
            </thead>
            <tbody>
              <tr>
                <th scope="row">at one place</th>
                <td className="num">{plainUnits(ahead.placeShown)}</td>
                <td className="num">{plainUnits(ahead.placeTrue)}</td>
              </tr>
              <tr>
                <th scope="row">over the hull at large</th>
                <td className="num">{plainUnits(ahead.hullShown)}</td>
                <td className="num">{plainUnits(ahead.hullTrue)}</td>
              </tr>
            </tbody>
          </table>
          <p className="small note">
            Scale units, read like this one: {plural(ahead.places, 'place')} against {ahead.dryPlaces} dry,{' '}
            {plural(ahead.placements, 'placement')} each. More placements bring one place to {plainUnits(ahead.floor)}{' '}
            at the most.
          </p>
        </>
      ) : (
        toMeasure.length === 0 && (
          <p className="note">Cannot be said: too few places, or too few dry ones, were read in this pass.</p>
        )
      )}
      {toMeasure.length > 0 && (
        <>
          <p className={ahead ? 'small' : undefined}>
            {ahead ? (
              'Still to be measured before passes by these can be judged:'
            ) : (
              <>
                What another visit could show <b>cannot be said</b> before this is measured:
              </>
            )}
          </p>
          <ul className={s.todo}>
            {toMeasure.map(({ model, code, text, todo }) => (
              <li key={`${model} ${code}`}>
                <b>{model}:</b> {text} {todo}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}
