package finding

// The codes of the forms, as they are kept.
const (
	Blisters  = "blisters"
	Sounding  = "sounding"
	Cracks    = "cracks"
	Weep      = "weep"
	Fitting   = "fitting"
	Bond      = "bond"
	Hardness  = "hardness"
	Thickness = "thickness"
	Core      = "core"
	Thermal   = "thermal"
	Timber    = "timber"
)

var (
	liquids = []string{"none", "clear", "cloudy or milky", "brown", "greasy or sticky", "oily, does not dry up"}
	smells  = []string{"none", "vinegar", "solvent or styrene", "other"}
	yesNo   = []string{"yes", "no"}
	pH      = Field{Name: "pH", Label: "pH", Takes: Number, Most: 14, Help: "By paper; say nothing where none was wetted."}
	faces   = []string{"outside", "inside"}
)

func millimetres(name, label string, most float64) Field {
	return Field{Name: name, Label: label, Takes: Number, Unit: "mm", Most: most}
}

// forms say what belongs to each kind (trade notes, sections 3 and 4). Limits are wide:
// they catch slips of the pen, not opinions. All of them common practice, no source.
var forms = []Form{
	{
		Code: Blisters, Name: "blisters", Asks: "Count every blister in an area you can measure; measure all, or some of them.",
		Caution: "The liquid is acid and under pressure: eyes covered, gloves, pierce from the side. Opening one needs the owner’s leave.",
		Fields: []Field{
			{Name: "widthMm", Label: "Width of the area", Takes: Number, Unit: "mm", Least: 10, Most: 20_000, Needed: true},
			{Name: "heightMm", Label: "Height of the area", Takes: Number, Unit: "mm", Least: 10, Most: 20_000, Needed: true},
			{Name: "count", Label: "Blisters in it", Takes: Whole, Most: 10_000, Needed: true, Help: "0 where none was seen: that is a count too."},
			{Name: "diametersMm", Label: "Diameters", Takes: Numbers, Unit: "mm", Least: 0.1, Most: 500, Help: "All of them, or a fair sample; the class comes from these."},
			{Name: "pattern", Label: "Pattern", Takes: Choice, Choices: []string{"scattered", "in clusters", "in lines", "along an edge"}},
			{Name: "pictures", Label: "Looked at against the pictures of", Takes: Choice, Choices: []string{"ISO 4628-2", "ASTM D714", "neither"}},
			{Name: "opened", Label: "Opened", Takes: Whole, Most: 1000},
			millimetres("depthMm", "Depth of the deepest", 60),
			{Name: "pressure", Label: "On opening", Takes: Choice, Choices: []string{"no pressure", "some pressure", "spurted"}},
			{Name: "liquid", Label: "Liquid", Takes: Choice, Choices: liquids},
			{Name: "smell", Label: "Smell", Takes: Choice, Choices: smells},
			pH,
			{Name: "bed", Label: "Bed of the cell", Takes: Words, Help: "Its colour; fibres bare or wetted out."},
		},
	},
	{
		Code: Sounding, Name: "note under the hammer", Asks: "What the hammer says, how far, and where it changes.",
		Fields: []Field{
			{Name: "note", Label: "Note", Takes: Choice, Choices: []string{"clear", "dull", "flat", "hollow", "mixed"}, Needed: true},
			{Name: "hammer", Label: "Tapped with", Takes: Choice, Choices: []string{"plastic hammer", "light metal hammer", "coin", "handle"}},
			{Name: "face", Label: "From", Takes: Choice, Choices: faces},
			millimetres("alongMm", "Extent along", 20_000),
			millimetres("downMm", "Extent down", 10_000),
			{Name: "edge", Label: "Its edge", Takes: Choice, Choices: []string{"sharp", "gradual", "follows a stiffener", "not found"}},
			{Name: "gives", Label: "Gives under the thumb", Takes: Choice, Choices: yesNo},
		},
	},
	{
		Code: Cracks, Name: "crack pattern", Asks: "The pattern tells more than the length: what does it point at?",
		Fields: []Field{
			{Name: "pattern", Label: "Pattern", Takes: Choice, Choices: []string{"star", "parallel", "along an edge", "crazing", "one alone"}, Needed: true},
			{Name: "count", Label: "Cracks", Takes: Whole, Least: 1, Most: 1000},
			millimetres("longestMm", "Longest", 20_000),
			millimetres("gapMm", "Widest gap", 100),
			{Name: "depth", Label: "Reaches", Takes: Choice, Choices: []string{"gelcoat alone", "into the laminate", "through the skin", "not known"}},
			{Name: "behind", Label: "Behind it", Takes: Words, Help: "Hard spot, bulkhead, stiffener, nothing found."},
			{Name: "works", Label: "Works under load", Takes: Choice, Choices: []string{"yes", "no", "not tried"}},
		},
	},
	{
		Code: Weep, Name: "weep", Asks: "Wipe it, note the time, and look again before you leave.",
		Fields: []Field{
			{Name: "liquid", Label: "Liquid", Takes: Choice, Choices: liquids[1:], Needed: true},
			millimetres("longMm", "Length of the streak", 10_000),
			{Name: "againHours", Label: "Came again after", Takes: Number, Unit: "h", Most: 1000},
			{Name: "watchedHours", Label: "Watched for", Takes: Number, Unit: "h", Most: 1000, Help: "Where it had not come again."},
			{Name: "smell", Label: "Smell", Takes: Choice, Choices: smells},
			pH,
		},
	},
	{
		Code: Fitting, Name: "wet fitting", Asks: "Bedding, fastening and the edge of the hole.",
		Caution: "Do not work a seacock afloat. Close, drain and tell the yard before anything is drawn.",
		Fields: []Field{
			{Name: "fitting", Label: "Fitting", Takes: Words, Needed: true},
			{Name: "bedding", Label: "Bedding", Takes: Choice, Choices: []string{"firm", "hard", "parted in part", "parted all round", "none", "not seen"}},
			{Name: "fastening", Label: "Fastening", Takes: Choice, Choices: []string{"firm", "loose", "cannot be moved", "not tried"}},
			{Name: "metal", Label: "Metal", Takes: Choice, Choices: []string{"bright when scratched", "pink when scratched", "wasted", "plastic", "not scratched"}},
			{Name: "drawn", Label: "Drawn", Takes: Choice, Choices: yesNo},
			{Name: "hole", Label: "Edge of the hole", Takes: Choice, Choices: []string{"sealed", "bare", "dark", "wet", "not seen"}},
			millimetres("stainMm", "Stain round it", 2000),
		},
	},
	{
		Code: Bond, Name: "bond line", Asks: "How far it has parted of what could be followed.",
		Fields: []Field{
			{Name: "joins", Label: "Joins", Takes: Choice, Choices: []string{"bulkhead tabbing", "stringer", "floor", "hull-to-deck joint", "keel stub", "rudder halves", "tray liner", "other"}, Needed: true},
			millimetres("followedMm", "Followed for", 50_000),
			millimetres("partedMm", "Parted for", 50_000),
			millimetres("gapMm", "Widest gap", 200),
			millimetres("feelerMm", "Feeler goes in", 500),
			{Name: "resin", Label: "Resin", Takes: Choice, Choices: []string{"even", "starved", "rich", "not seen"}},
		},
	},
	{
		Code: Hardness, Name: "hardness", Asks: "A series by one named procedure, with the setting checked before and after.",
		Fields: []Field{
			{Name: "procedure", Label: "Procedure", Takes: Choice, Choices: []string{"ASTM D2583", "EN 59", "ISO 868", "other, said below"}, Needed: true},
			{Name: "values", Label: "Values, in order", Takes: Numbers, Most: 100, Needed: true},
			{Name: "setting", Label: "Reference disc before and after", Takes: Words},
			{Name: "surface", Label: "On", Takes: Choice, Choices: []string{"gelcoat", "laminate", "coating", "repair"}},
			{Name: "celsius", Label: "Surface temperature", Takes: Number, Unit: "°C", Least: -20, Most: 60},
		},
	},
	{
		Code: Thickness, Name: "thickness", Asks: "Each figure with how it was got; sound travels faster or slower from hull to hull.",
		Caution: "Drilling needs the owner’s leave and somebody who makes good. Look for pipes, wires and tanks behind first.",
		Fields: []Field{
			{Name: "method", Label: "How", Takes: Choice, Choices: []string{"drilled hole", "ultrasonic", "callipers at an edge", "magnetic", "from a drawing"}, Needed: true},
			{Name: "of", Label: "Of", Takes: Choice, Choices: []string{"laminate with gelcoat", "laminate alone", "outer skin", "inner skin", "core", "coating"}, Needed: true},
			{Name: "valuesMm", Label: "Values", Takes: Numbers, Unit: "mm", Least: 0.01, Most: 200, Needed: true},
			{Name: "velocity", Label: "Sound velocity set", Takes: Number, Unit: "m/s", Least: 1000, Most: 7000},
			{Name: "setBy", Label: "Velocity set by", Takes: Words, Help: "A hole of known depth on this hull, or the instrument’s table."},
		},
	},
	{
		Code: Core, Name: "core sample", Asks: "Weigh it at once, bag it, and write where it went.",
		Caution: "A plug needs the owner’s leave and somebody who makes good, before relaunch. Look for pipes, wires and tanks behind first.",
		Fields: []Field{
			{Name: "material", Label: "Material", Takes: Choice, Choices: []string{"balsa", "plywood", "solid timber", "foam", "honeycomb", "laminate"}, Needed: true},
			{Name: "plugMm", Label: "Diameter of the plug", Takes: Number, Unit: "mm", Least: 1, Most: 200},
			millimetres("depthMm", "Length of the plug", 200),
			{Name: "wetGrams", Label: "Weight as taken", Takes: Number, Unit: "g", Least: 0.01, Most: 5000},
			{Name: "dryGrams", Label: "Weight dried", Takes: Number, Unit: "g", Least: 0.01, Most: 5000, Help: "To constant weight; say at what heat below."},
			{Name: "driedAt", Label: "Dried at", Takes: Number, Unit: "°C", Least: 20, Most: 120},
			{Name: "looks", Label: "Looks", Takes: Choice, Choices: []string{"bright and firm", "dark and firm", "dark and soft", "crumbles", "water ran from it"}},
			{Name: "skins", Label: "Skins", Takes: Choice, Choices: []string{"both hold", "outer parted", "inner parted", "both parted", "not seen"}},
		},
	},
	{
		Code: Thermal, Name: "thermal pattern", Asks: "A pattern of heat and nothing more: what makes it is for the hammer and the drill.",
		Fields: []Field{
			{Name: "pattern", Label: "Stands out", Takes: Choice, Choices: []string{"warmer", "cooler", "edges alone"}, Needed: true},
			{Name: "apartKelvin", Label: "From what lies round it", Takes: Number, Unit: "K", Most: 50},
			{Name: "airCelsius", Label: "Air", Takes: Number, Unit: "°C", Least: -30, Most: 60},
			{Name: "sunHours", Label: "Since the sun left it", Takes: Number, Unit: "h", Most: 48},
			{Name: "emissivity", Label: "Emissivity set", Takes: Number, Least: 0.05, Most: 1},
			millimetres("acrossMm", "Across", 20_000),
			{Name: "heated", Label: "Heated or cooled on purpose", Takes: Choice, Choices: yesNo},
		},
	},
	{
		Code: Timber, Name: "timber", Asks: "Its own scale, the wood’s temperature, and what the spike says.",
		Fields: []Field{
			{Name: "part", Label: "Part", Takes: Words, Needed: true},
			{Name: "species", Label: "Wood", Takes: Words},
			{Name: "readings", Label: "Readings on the timber scale", Takes: Numbers, Unit: "%", Most: 100},
			{Name: "celsius", Label: "Temperature of the wood", Takes: Number, Unit: "°C", Least: -20, Most: 60},
			{Name: "corrected", Label: "Corrected by the instrument", Takes: Choice, Choices: yesNo, Help: "For temperature and species."},
			{Name: "salt", Label: "Has been in the sea", Takes: Choice, Choices: yesNo},
			{Name: "spike", Label: "Under the spike", Takes: Choice, Choices: []string{"firm", "soft at the face", "soft deep", "not tried"}},
		},
	},
}
