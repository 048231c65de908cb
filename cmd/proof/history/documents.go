package history

// ours is the history as the client asks for it: the same fields as its stored operation.
const ours = `query History($id: ID!) { vessel(id: $id) { id name history { seq
  axis { ids labels elements sides stations rows along down positionError mirrors }
  passes { id visit visitKind job jobNumber at on daysAshore hoursAshore daysAshoreAsWritten hand instrument { id name } instrumentAsWritten
    scale { id name mode lowTenths highTenths } face surface drySurface state source airDecidegrees humidityPermille skinDecidegrees
    blockChecks { id block moment valueTenths } missing { code text } standing standingReason
    baseline { medianFortieths scatter count reasons { code text } } values contrasts flags } } } }`

// objects asks the plain server for the same things.
const objects = `query History($id: ID!) { vessel(id: $id) { id name seq
  places { id label element side station row along down positionError mirror }
  passes { id visit visitKind job jobNumber at on daysAshore hoursAshore daysAshoreAsWritten hand instrument { id name } instrumentAsWritten
    scale { id name mode lowTenths highTenths } face surface drySurface state source airDecidegrees humidityPermille skinDecidegrees
    blockChecks { id block moment valueTenths } missing { code text } standing standingReason
    baseline { medianFortieths scatter count reasons { code text } } readings { place value contrast flags } } } }`

// gated is the whole comparison: everything that may be said of every pass beside the newest.
const gated = `query Compared($id: ID!) { vessel(id: $id) { id name history { seq
  axis { ids labels elements sides stations rows along down positionError mirrors }
  components { model scale mode repeatability { value count } likeVisits { value count } missing { code text todo } }
  ahead { placeShown placeTrue hullShown hullTrue statements { code text } } course { visits medians p verdict statements { text } }
  passes { id at on daysAshore standing standingReason lost { code text } values contrasts flags
    gate { earlier later comparable ofPlaces dryPlaces leastChange verdicts differences lows highs leasts whys
      hull { answer difference { value low high } median least untold { code } } zones { name slots verdict { answer median least difference { value low high } } }
      changed { about slots by matches around } explained { code text expected { value low high } covers } untold { code text todo places }
      statements { code claim text runs slots figures { code value low high unit } } }
    notSeen { planned read smallestMm statements { text } } } } } }`
