package report

// Where the worked tables on the pages come from: said beside each.
const (
	ReachedTag    = "computed by diffusion (Crank 1975, §2.4.3 and §4.3) for bare laminate with the inner face sealed; diffusivity 0.3 to 3 × 10⁻¹² m²/s at 20 °C and 40 kJ/mol are from memory; no hull data behind it"
	OverVisitsTag = "computed: visits equally spaced, a straight line, 5 % two-sided; no hull data behind it. Drying follows the root of time early and levels out late: fit that, not a line"
)
