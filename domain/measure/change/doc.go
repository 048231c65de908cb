// Package change answers whether a hull changed between two like passes: place by
// place, by zone, and as a whole. The answer is one of three: changed, no change
// shown, cannot tell; and always with the least change that could have been shown.
//
// What the visit itself does to every reading (zero, weather, hand) is taken out
// through dry places common to both passes, and the instrument's gain through two
// reference blocks. What is left of a difference has the variance of design section
// 3.3: repeatability, finding the place again, and place × visit, for each pass,
// plus the errors of both baselines, which all places share. There are no defaults
// for these: the practice measures them ([Measure]); until then the answer is
// cannot tell.
//
// Known limits, seen on simulated hulls (cmd/proof/inference/README.md): what finding a
// place again costs is pooled over all places, so that where the skin reads steeply it is
// counted too low. Every false "changed" was a single place, none a zone or the hull;
// three of the five that were looked at lay on the edge of a wet core, where a place found
// again 50 mm off moves the reading by about the least change that is stated. One place
// alone at a steep edge is therefore the weakest "changed" there is. On flat skin the
// same pooling should count it too high (reasoned, not measured).
//
// Two visits are a difference and never a trend.
package change
