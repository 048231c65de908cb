package door

import "boottop.example/practice/graph/strict"

// The limits in front of the schema. Stored operations pass those on the document's
// shape once, when the service starts; everything else is checked at each request.
const (
	bodyMost   = 64 << 10 // bytes of a request
	tokensMost = 3000     // a document; the client's largest has 250, graphql-js's introspection 500

	depthMost      = 15   // selections inside selections, fragments followed
	fieldsMost     = 500  // written down
	expandedMost   = 4000 // selections with every spread followed
	sameMost       = 4    // the same answer name twice in one selection: merging them is quadratic
	aliasesMost    = 60
	directivesMost = 40
	fragmentsMost  = 40
	operationsMost = 10
	variablesMost  = 40
	mutationsMost  = 8 // root fields of one mutation

	costMost  = 20_000 // see cost
	firstMost = 200    // of any connection
	listCosts = 5      // what a list that is no connection counts for, see cost

	errorsMost = 5 // in one answer
)

// A mutation carries at most 200 readings as columns; plans may have more places.
var bodyLimits = strict.Limits{Depth: 12, List: 1000, Values: 12_000}
