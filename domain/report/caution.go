package report

import "slices"

// StandingCautions are printed on every report, draft or issued, whatever else it
// says.
func StandingCautions() []string {
	return []string{
		"Opinion on the condition on the day, within the limits stated. Not a certificate of seaworthiness, class, safety or compliance, and no guarantee of what comes after.",
		"A meter number has no unit and is not a share of water.",
		"Local law, codes and licensed people come first; nothing here says that a place is safe to work in.",
		"For the person named above; shared with others only by written leave.",
	}
}

// AllCautions gives the standing ones, then the report's own, each once.
func (r Report) AllCautions() []string {
	all := StandingCautions()
	for _, c := range r.Cautions {
		if c != "" && !slices.Contains(all, c) {
			all = append(all, c)
		}
	}
	return all
}
