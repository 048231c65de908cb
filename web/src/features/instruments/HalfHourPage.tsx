import { Link } from 'react-router'
import { useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { MeasuringPageDocument, type MeasuringPageQuery } from '../../graphql/gen/graphql'
import { plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Step } from '../../ui/Step'
import s from './instruments.module.css'
import { Said, Symbols } from './Said'

type Scale = MeasuringPageQuery['measuring']['scales'][number]

/** How a practice measures its own scatter in half an hour: what to take, what to do, and what is still missing. */
export default function HalfHourPage() {
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: MeasuringPageDocument })
  return (
    <>
      <Running title="The half hour">a practice measures its own scatter, since nobody else can</Running>
      <main id="main" className="page-body">
        <Answer data={data?.measuring} error={error} again={again} lines={10}>
          {(measuring) => (
            <>
              <section className={s.guide}>
                <div>
                  <h2>Why</h2>
                  <p className="measure">
                    Whether a hull has changed can only be said beside what readings do when nothing changes. No
                    published figure holds for hulls, so there is no default here: until a practice has measured its
                    own, the gate answers <b>cannot tell</b>.
                  </p>
                  <h2>What to take</h2>
                  <ul className="measure">
                    <li>One instrument, its block, a cloth, chalk or tape and somebody to write.</li>
                    <li>
                      A hull that stands ashore, its surface wiped and no longer wet to the touch, with places from near
                      the topsides to the wettest you can find.
                    </li>
                    <li>
                      Two or three people who read in this practice (three are usual: common practice, from memory).
                    </li>
                    <li>
                      Mind how she stands: keep clear of props and slings, and leave her as the yard chocked her. Ask
                      the owner before you mark or touch the hull.
                    </li>
                  </ul>
                </div>
                <div>
                  <h2>What to do</h2>
                  <ol className="measure">
                    <li>Read the low and the high block.</li>
                    <li>
                      Mark ten spots, wet to near the topsides, off edges and curves (common practice, from memory).
                    </li>
                    <li>
                      The first person reads all ten, then again, then a third time, the instrument lifted off between
                      and nobody looking at what was written before. The writer keeps every reading.
                    </li>
                    <li>The next person does the same, on the same marks.</li>
                    <li>Read the block again, and enter the whole as one kit. Wipe the marks off.</li>
                    <li>
                      With a second instrument at hand: read at least fifteen spots with one and at once with the other,
                      and enter them as cross-readings.
                    </li>
                  </ol>
                </div>
              </section>
              <h2>What is there, and what is still missing</h2>
              {measuring.scales.length === 0 ? (
                <Empty title="No instrument yet" ways={<Link to="/instruments">Instruments</Link>}>
                  <p>Add an instrument with its scale; its steps then stand here.</p>
                </Empty>
              ) : (
                <div className={s.scales2}>
                  {measuring.scales.map((scale) => (
                    <Steps key={scale.scale.id} scale={scale} />
                  ))}
                </div>
              )}
              {measuring.pairs.length > 0 && (
                <section className={s.pairs}>
                  <h3>Instruments beside each other</h3>
                  <ul className="plain-list steps">
                    {measuring.pairs.map(({ first, second, places, needed }) => (
                      <Measured
                        key={first.id + second.id}
                        done={places >= needed}
                        has={`${places} of ${needed} spots`}
                        what={`${first.name} and ${second.name} read side by side`}
                        way={{ to: `/instruments/${first.id}/beside?with=${second.id}`, name: 'Enter cross-readings' }}
                      />
                    ))}
                  </ul>
                </section>
              )}
            </>
          )}
        </Answer>
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}

function Steps({ scale }: { scale: Scale }) {
  const way = { to: `/instruments/${scale.instrument.id}/kit`, name: 'Enter a kit' }
  return (
    <section className={s.scale}>
      <h3>
        <Link to={`/instruments/${scale.instrument.id}`}>{scale.instrument.name}</Link>{' '}
        <span className={s.aside}>scale {scale.scale.name}</span>
      </h3>
      <ul className="plain-list steps">
        <Measured
          done={scale.enough}
          has={plural(scale.replacements, 're-placement')}
          what="30 re-placements: the gate may use s_r"
          way={way}
        />
        <Measured
          done={scale.people >= 2}
          has={scale.people ? plural(scale.people, 'person', 'people') : plural(scale.mostPeople, 'person', 'people')}
          what="two people at least on the same spots: s_R is known"
          way={way}
        />
        <Measured
          done={scale.mostSpots >= 10}
          has={plural(scale.mostSpots, 'spot')}
          what="ten spots, wet to near the topsides"
          usual
        />
        <Measured
          done={scale.mostRepeats >= 3}
          has={plural(scale.mostRepeats, 'reading')}
          what="three readings of each spot by each hand"
          usual
        />
        <Measured
          done={scale.mostPeople >= 3}
          has={plural(scale.mostPeople, 'person', 'people')}
          what="three people"
          usual
        />
      </ul>
      <Said says={scale.says} />
    </section>
  )
}

/** What the half hour asks for; who may enter instruments is shown the way. */
function Measured({
  done,
  has,
  what,
  usual,
  way,
}: {
  done: boolean
  has: string
  what: string
  usual?: boolean
  way?: { to: string; name: string } | undefined
}) {
  const mayEnter = useMay('writeTools')
  return (
    <Step done={done} has={has} way={mayEnter && !done ? way : undefined}>
      <Symbols text={what} />
      {usual && <span className="small note"> (common practice, from memory)</span>}
    </Step>
  )
}
