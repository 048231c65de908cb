import s from './visit.module.css'

/** Where work can hurt someone the usual cautions stand at the step; local rules and the yard come first. */
export function Cautions({ spell }: { spell?: { held: string } | null }) {
  return (
    <section className={s.cautions} aria-label="Cautions">
      <b>Before you go under her</b>
      <ul>
        <li>
          {spell?.held === 'slings'
            ? 'Held in slings: stay clear of the load and the lifting gear until the yard’s own people say otherwise.'
            : 'Props, pads and slings are the yard’s: move none, and look at them before and after wind.'}
        </li>
        <li>Scraping old antifouling: wet, mask, gloves; collect what falls. Some are poisonous.</li>
        <li>Liquid in a blister is acid and under pressure: eyes covered, pierce from the side.</li>
        <li>
          Ladders footed, shore power through a breaker, tanks and lockers aired before you put your head in, nobody
          alone.
        </li>
      </ul>
      <p className="note">Reminders, not a method. Local law, the yard’s rules and licensed people come first.</p>
    </section>
  )
}
