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
