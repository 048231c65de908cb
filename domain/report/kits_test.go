package report

// kitCatalogue calls every sentence about a practice's own measuring.
func kitCatalogue() []Sentence {
	s, p := Scatter{1.12, 0.93, 1.41, 60}, Pair{"Skerrow deep No. 2", "Skerrow shallow No. 1"}
	return []Sentence{
		Repeats("Skerrow deep No. 2", s, 3.14), RepeatsTooFew("Skerrow deep No. 2", 1, 30), RepeatsTooFew("Skerrow deep No. 2", 12, 30), RepeatsOfOne("Skerrow deep No. 2", 60), RepeatsUnmeasured("Skerrow deep No. 2"),
		Reproduces(s, 3.9, 3, 10), Reproduces(s, 3.9, 6, 10), ReproducesUnmeasured(), OwnRepeats("Skerrow deep No. 2", s, 30), OwnRepeats("Skerrow deep No. 2", Scatter{DF: 20}, 30), OwnIsAnAid(),
		CrossedTooFew(p, 9, 15), CrossedNoRelation(p), CrossedBand(p, 11.2, 48, 4.1, 5.2, 18), CrossedBand(p, 11.2, 48, 4.1, 4.1, 18), CrossedNotComparable(p, 5),
		CrossedComparable(p, 5, 11.2, 48, true), CrossedComparable(p, 5, 20, 40, false), CrossedRatioGuessed(),
		BlockHeld("low", 1), BlockHeld("low", 14), BlockOut("high", []string{"3 May 2025"}), BlockDrifts("high", "3 May 2025"), BlockMovedWithin("low", []string{"3 May 2025", "9 June 2025"}),
		BlocksTooFew("low", 1), BlocksTooFew("low", 0), BlocksProvisional("low", 7), BlocksEqual("low"),
	}
}
