package cause

import (
	"slices"
	"sync"
)

// SignCode names a sign.
type SignCode string

// The signs that the service looks for by itself, in readings, findings and records.
// Others come in as outcomes of checks.
const (
	AllHigh           SignCode = "all-high"
	UnderbodyFresh    SignCode = "underbody-high-fresh"
	UnderbodyHigh     SignCode = "underbody-high"
	NoPatch           SignCode = "no-patch"
	Patch             SignCode = "patch"
	Dispersed         SignCode = "no-straight-edges"
	OnlyUnderCoating  SignCode = "only-under-coating"
	FallsWhenScraped  SignCode = "falls-when-scraped"
	StaysWhenScraped  SignCode = "stays-when-scraped"
	StraightEdges     SignCode = "straight-edges"
	OverBehind        SignCode = "over-something-behind"
	OverLiner         SignCode = "over-liner"
	LevelWithTank     SignCode = "goes-with-tank"
	NotWithTank       SignCode = "does-not-go-with-tank"
	NothingMapped     SignCode = "nothing-mapped-behind"
	OneSide           SignCode = "one-side-high"
	BothSides         SignCode = "both-sides-high"
	RoundFitting      SignCode = "round-a-fitting"
	AtFitting         SignCode = "at-a-fitting"
	BandAtBootTop     SignCode = "band-at-boot-top"
	BlistersLow       SignCode = "blisters-meter-low"
	BlistersSeen      SignCode = "blisters-seen"
	NoBlisters        SignCode = "no-blisters-seen"
	LiquidAcid        SignCode = "liquid-acid-greasy"
	LiquidNeutral     SignCode = "liquid-neutral"
	SoftBulges        SignCode = "soft-bulges"
	DullLow           SignCode = "dull-note-meter-low"
	DullHighSandwich  SignCode = "dull-note-meter-high-sandwich"
	DullHigh          SignCode = "dull-note-meter-high"
	ClearHighSandwich SignCode = "clear-note-meter-high-sandwich"
	ClearNote         SignCode = "clear-note"
	CracksWet         SignCode = "cracks-and-local-wet"
	Crystals          SignCode = "white-crystals"
	FibresProud       SignCode = "fibres-proud"
	TreatedHigh       SignCode = "treated-and-high"
	Untreated         SignCode = "no-treatment-known"
	DeepStays         SignCode = "deep-stays-while-shallow-falls"
	DeepOnly          SignCode = "deep-high-shallow-low"
	BothDepths        SignCode = "deep-and-shallow-alike"
	ShallowJumped     SignCode = "shallow-jumped"
	WeepAtFitting     SignCode = "weep-at-fitting"
	Weep              SignCode = "weep"
	SingleSkin        SignCode = "single-skin"
	Sandwich          SignCode = "sandwich"
	BlockAgrees       SignCode = "block-agrees"
	BlockDrifted      SignCode = "block-drifted"
	RepeatsAgree      SignCode = "repeats-agree"
	RepeatsDiffer     SignCode = "repeats-differ"
	AboveDewPoint     SignCode = "skin-above-dew-point"
	AtDewPoint        SignCode = "skin-at-dew-point"
	RainOrWash        SignCode = "rain-or-wash-within-a-week"
	NoRainNoWash      SignCode = "no-rain-no-wash-for-a-week"
	CoreWet           SignCode = "core-wet"
	CopperCoating     SignCode = "metal-in-the-coating"
	PliesParted       SignCode = "plies-parted"
)

// Sign is something that may be so of a hull or a patch of it, and what it says of each cause.
type Sign struct {
	Code     SignCode
	Family   Family
	Text     string // what is so, in words
	Points   string // what it points towards where the catalogue has no cause of that name
	For      []Code
	Against  []Code
	Excludes []Code // actively: the cause is no longer live
	Confirms []Code // a sample, or a place that was opened
	Figures  bool   // an exclusion by figures held against a limit, not by what somebody saw
	Check    string // the check that yields it; signs of one check are its outcomes
	Source   string // row of the trade notes it is taken from
}

// SignOf finds a sign.
func SignOf(c SignCode) (Sign, bool) {
	k, known := signAt()[c]
	if !known {
		return Sign{}, false
	}
	return signs[k], true
}

// signAt finds a sign in the table by its code.
var signAt = sync.OnceValue(func() map[SignCode]int {
	at := make(map[SignCode]int, len(signs))
	for k, s := range signs {
		at[s.Code] = k
	}
	return at
})

// Signs lists the signs, in the order of the trade notes.
func Signs() []Sign { return slices.Clone(signs) }

// what a thing that stands out on its own speaks against
var spread = []Code{Instrument, Condensation, OrdinaryAbsorption}

const (
	diagnosis = "differential diagnosis"
	thumb     = "rules of thumb: common practice, no source"
	stall     = "stall patterns"
	depths    = "what two instruments of different depth would see"
	conduct   = "measuring practice"
)

// signs is the table. Rows of the trade's own list come first; texts are ours.
var signs = []Sign{
	{Code: AllHigh, Family: Electrical, Source: diagnosis, Text: "all places are high, the baseline too", For: []Code{Instrument, Condensation, SurfaceWater}, Against: []Code{OrdinaryAbsorption}},
	{Code: UnderbodyFresh, Family: Electrical, Source: diagnosis, Text: "the underbody is high, the baseline low, lifted less than three days ago", For: []Code{OrdinaryAbsorption, SurfaceWater}, Against: []Code{Instrument}},
	{Code: UnderbodyHigh, Family: Electrical, Source: diagnosis, Text: "the underbody stands above a low baseline", For: []Code{OrdinaryAbsorption}, Against: []Code{Instrument, Condensation}},
	{Code: OnlyUnderCoating, Family: Electrical, Source: diagnosis, Text: "high only where the coating lies", For: []Code{ConductiveCoating}, Against: []Code{OrdinaryAbsorption, LinerOrBilge, WetCore}},
	{Code: FallsWhenScraped, Family: Electrical, Source: diagnosis, Check: "scrape", Text: "the reading fell when the coating was scraped off", For: []Code{ConductiveCoating}, Against: []Code{OrdinaryAbsorption, WetCore, Hydrolysis, Delamination, SomethingBehind}},
	{Code: StaysWhenScraped, Family: Electrical, Source: diagnosis, Check: "scrape", Text: "the reading stayed when the coating was scraped off", Excludes: []Code{ConductiveCoating}},
	{Code: StraightEdges, Family: Electrical, Source: diagnosis, Text: "the patch has straight edges", For: []Code{SomethingBehind}, Against: spread},
	{Code: OverBehind, Family: Records, Source: diagnosis, Check: "map", Text: "it matches something known to lie behind", For: []Code{SomethingBehind}, Against: spread},
	{Code: OneSide, Family: Electrical, Source: diagnosis, Text: "one side is high, its mirror low", For: []Code{SomethingBehind, Leak}, Against: spread},
	{Code: RoundFitting, Family: Electrical, Source: diagnosis, Text: "a round patch about a fitting, highest at it", For: []Code{Leak, WetCore}, Against: spread},
	{Code: AtFitting, Family: Records, Source: diagnosis, Check: "map", Text: "a fitting, stock tube or keel joint is known there", For: []Code{Leak}},
	{Code: BandAtBootTop, Family: Electrical, Source: diagnosis, Text: "a high band along the boot-top or a seam", Points: "filler, a repair or a mould join", For: []Code{ConductiveCoating}},
	{Code: BlistersLow, Family: Visual, Source: diagnosis, Text: "blisters where the instrument reads low", Points: "deflated or coating blisters, a hull long ashore", For: []Code{Hydrolysis}},
	{Code: BlistersSeen, Family: Visual, Source: diagnosis, Check: "raking-light", Text: "blisters were seen", For: []Code{Hydrolysis}},
	{Code: LiquidAcid, Family: Chemical, Source: diagnosis, Check: "open-blisters", Text: "opened: acid, greasy liquid", For: []Code{Hydrolysis}, Confirms: []Code{Hydrolysis}},
	{Code: LiquidNeutral, Family: Chemical, Source: diagnosis, Check: "open-blisters", Text: "opened: neutral liquid, in the coating only", Points: "coating disbond, trapped solvent or salt", Against: []Code{Hydrolysis}},
	{Code: SoftBulges, Family: Visual, Source: diagnosis, Check: "raking-light", Text: "few large soft bulges", For: []Code{Delamination}},
	{Code: DullLow, Family: Acoustic, Source: diagnosis, Check: "tap", Text: "a dull note where the instrument reads low", For: []Code{DryDisbond}, Against: []Code{WetCore}},
	{Code: DullHighSandwich, Family: Acoustic, Source: diagnosis, Check: "tap", Text: "a dull note where it reads high, in sandwich", For: []Code{WetCore}, Against: []Code{ConductiveCoating, SurfaceWater, Condensation, Instrument}},
	{Code: DullHigh, Family: Acoustic, Source: diagnosis, Check: "tap", Text: "a dull note where it reads high, in what is not known as sandwich", For: []Code{Delamination}, Against: []Code{ConductiveCoating, SurfaceWater, Condensation, Instrument}},
	{Code: ClearHighSandwich, Family: Acoustic, Source: diagnosis, Check: "tap", Text: "a clear note where it reads high, in sandwich", For: []Code{WetCore, SomethingBehind}, Against: []Code{DryDisbond, Delamination}},
	{Code: ClearNote, Family: Acoustic, Source: diagnosis, Check: "tap", Text: "a clear note where tapped", Against: []Code{DryDisbond, Delamination}},
	{Code: CracksWet, Family: Visual, Source: diagnosis, Check: "raking-light", Text: "parallel or radial cracks at a wet spot", Points: "impact, a hard spot, a grounding", For: []Code{Delamination}},
	{Code: Crystals, Family: Chemical, Source: diagnosis, Text: "white crystals, or weeps after drying", For: []Code{Residue}},
	{Code: FibresProud, Family: Visual, Source: diagnosis, Text: "fibres stand proud, or lines like straw", Points: "wicking from dry glass"},
	{Code: TreatedHigh, Family: Records, Source: diagnosis, Text: "treated within five years, and high", For: []Code{Residue, LinerOrBilge, ConductiveCoating}},
	{Code: DeepStays, Family: Electrical, Source: diagnosis, Text: "deep-sensing stays high here while shallow-sensing falls and neighbours and mirror fall on both", For: []Code{SomethingBehind, LinerOrBilge, Leak, WetCore, Delamination}, Against: []Code{OrdinaryAbsorption, SurfaceWater, Condensation, ConductiveCoating}},

	{Code: OverLiner, Family: Records, Source: thumb, Check: "map", Text: "it lies over a bonded liner or the bilge", For: []Code{LinerOrBilge}, Against: spread},
	{Code: DeepOnly, Family: Electrical, Source: thumb, Check: "other-depth", Text: "high with the deep-sensing instrument and not with the shallow-sensing one", For: []Code{SomethingBehind, LinerOrBilge, Leak, WetCore, Delamination}, Against: []Code{SurfaceWater, Condensation, ConductiveCoating}},
	{Code: BothDepths, Family: Electrical, Source: thumb, Check: "other-depth", Text: "high alike with the deep-sensing and the shallow-sensing instrument", For: []Code{ConductiveCoating, SurfaceWater, OrdinaryAbsorption}, Against: []Code{SomethingBehind, LinerOrBilge}},
	{Code: ShallowJumped, Family: Electrical, Source: depths, Text: "shallow-sensing rose between visits while deep-sensing moved far less", For: []Code{SurfaceWater, Condensation}, Against: []Code{SomethingBehind, WetCore, Delamination}},
	{Code: "salt-film-rinsed", Family: Electrical, Source: thumb, Check: "rinse-bilge", Text: "fell after the bilge was rinsed with fresh water and wiped", Points: "a salt film in the bilge", For: []Code{LinerOrBilge}, Against: []Code{WetCore, Delamination, Hydrolysis}},
	{Code: "rinsed-no-change", Family: Electrical, Source: thumb, Check: "rinse-bilge", Text: "no change after the bilge was rinsed with fresh water and wiped", Against: []Code{LinerOrBilge}},

	{Code: "stall-flat", Family: Electrical, Source: stall, Check: "series", Text: "all places flat at a level that matches the air", Points: "the floor that the air sets", For: []Code{OrdinaryAbsorption}},
	{Code: "stall-local", Family: Electrical, Source: stall, Check: "series", Text: "some places flat while the others fall", For: []Code{SomethingBehind, LinerOrBilge, Residue}, Against: []Code{Instrument}},
	{Code: "stall-heat-drop", Family: Electrical, Source: stall, Check: "series", Text: "flat, then lower under heat", Points: "slow diffusion only", For: []Code{OrdinaryAbsorption}},
	{Code: "stall-rebound-heat", Family: Electrical, Source: stall, Check: "series", Text: "rises again once the heat is off", For: []Code{WetCore, Delamination, LinerOrBilge}},
	{Code: "stall-air", Family: Electrical, Source: stall, Check: "series", Text: "shallow-sensing rises with the humidity of the air", For: []Code{Residue}},
	{Code: "stall-rebound-wash", Family: Electrical, Source: stall, Check: "series", Text: "rises after each wash to the same height", For: []Code{Residue}},
	{Code: "stall-together", Family: Electrical, Source: stall, Check: "series", Text: "all places move together", Points: "the instrument or the weather", For: []Code{Instrument, SurfaceWater, Condensation}},
	{Code: "stall-one-side", Family: Electrical, Source: stall, Check: "series", Text: "one side alone moves", Points: "sun or draught", For: []Code{SurfaceWater}},

	{Code: NoPatch, Family: Electrical, Source: conduct, Text: "no patch stands out over rows and regions", For: []Code{OrdinaryAbsorption}, Against: []Code{SomethingBehind, LinerOrBilge, Leak, WetCore, Delamination}},
	{Code: Patch, Family: Electrical, Source: conduct, Text: "the patch stands out over its row and region", Against: spread},
	{Code: Dispersed, Family: Electrical, Source: conduct, Text: "its edges are not straight", Against: []Code{SomethingBehind}},
	{Code: BothSides, Family: Electrical, Source: conduct, Text: "high on both sides at the same places", Against: []Code{Leak}},
	{Code: LevelWithTank, Family: Electrical, Source: conduct, Check: "empty", Text: "high when what lies behind was full, level with the rest when it was empty", For: []Code{SomethingBehind}, Against: []Code{Leak, WetCore, Hydrolysis, Delamination, ConductiveCoating, LinerOrBilge}},
	{Code: NotWithTank, Family: Electrical, Source: conduct, Check: "empty", Text: "stayed high with what lies behind emptied", Excludes: []Code{SomethingBehind}},
	{Code: NothingMapped, Family: Records, Source: conduct, Check: "map", Text: "nothing is mapped behind it", Against: []Code{SomethingBehind, Leak, LinerOrBilge}},
	{Code: SingleSkin, Family: Records, Source: conduct, Text: "single skin there, as far as known", Against: []Code{WetCore}},
	{Code: Sandwich, Family: Records, Source: conduct, Text: "sandwich there, as far as known", For: []Code{WetCore}, Against: []Code{Delamination}},
	{Code: Untreated, Family: Records, Source: conduct, Text: "no treatment is on record", Against: []Code{Residue}},
	{Code: CopperCoating, Family: Records, Source: conduct, Text: "a coating with metal in it is on record", For: []Code{ConductiveCoating}},
	{Code: BlockAgrees, Family: Electrical, Source: conduct, Check: "block", Text: "block checks before and after agree", Excludes: []Code{Instrument}, Figures: true},
	{Code: BlockDrifted, Family: Electrical, Source: conduct, Check: "block", Text: "block checks before and after differ", For: []Code{Instrument}},
	{Code: RepeatsAgree, Family: Electrical, Source: conduct, Check: "repeat", Text: "repeats agree with the first readings", Excludes: []Code{Hand}, Figures: true},
	{Code: RepeatsDiffer, Family: Electrical, Source: conduct, Check: "repeat", Text: "repeats differ from the first readings", For: []Code{Hand}},
	{Code: AboveDewPoint, Family: Records, Source: conduct, Check: "dew-point", Text: "the skin stood at least 3 °C above the dew point", Excludes: []Code{Condensation}, Figures: true},
	{Code: AtDewPoint, Family: Records, Source: conduct, Check: "dew-point", Text: "the skin stood less than 3 °C above the dew point", For: []Code{Condensation}},
	{Code: RainOrWash, Family: Records, Source: depths, Check: "weather", Text: "rain, a wash or the lift within a week of the readings", For: []Code{SurfaceWater}},
	{Code: NoRainNoWash, Family: Records, Source: depths, Check: "weather", Text: "no rain and no wash for a week before the readings", Against: []Code{SurfaceWater}},
	{Code: NoBlisters, Family: Visual, Source: conduct, Check: "raking-light", Text: "looked over in raking light: no blister seen", Against: []Code{Hydrolysis}},
	{Code: WeepAtFitting, Family: Visual, Source: conduct, Text: "a weep or a stain at a fitting", For: []Code{Leak}},
	{Code: Weep, Family: Visual, Source: conduct, Text: "a weep", For: []Code{Leak, WetCore, Delamination, Hydrolysis}},

	{Code: "repeat-dry-fell", Family: Electrical, Source: diagnosis, Check: "wipe-repeat", Text: "fell to the level of the rest when wiped and read again after 24 hours under cover", For: []Code{SurfaceWater, Condensation}, Against: []Code{SomethingBehind, WetCore, Delamination, Hydrolysis, LinerOrBilge}},
	{Code: "repeat-dry-stayed", Family: Electrical, Source: diagnosis, Check: "wipe-repeat", Text: "stayed when wiped and read again after 24 hours under cover", Excludes: []Code{SurfaceWater, Condensation}},
	{Code: "inside-behind", Family: Visual, Source: diagnosis, Check: "inside", Text: "inside: a tank, metal or damp gear against the skin", For: []Code{SomethingBehind}},
	{Code: "inside-liner-water", Family: Visual, Source: thumb, Check: "inside", Text: "inside: water behind the liner or standing in the bilge", For: []Code{LinerOrBilge}, Confirms: []Code{LinerOrBilge}},
	{Code: "inside-fitting-wet", Family: Visual, Source: diagnosis, Check: "inside", Text: "inside: wet, or a stain, about the fitting", For: []Code{Leak}},
	{Code: "inside-nothing", Family: Visual, Source: diagnosis, Check: "inside", Text: "inside: nothing against the skin, no water, no stain", Against: []Code{LinerOrBilge, Leak}, Excludes: []Code{SomethingBehind}},
	{Code: "fitting-wet", Family: Visual, Source: diagnosis, Check: "withdraw", Text: "fitting withdrawn: its bedding and the edge of the hole are wet", For: []Code{Leak}, Confirms: []Code{Leak}},
	{Code: "fitting-tight", Family: Visual, Source: diagnosis, Check: "withdraw", Text: "fitting withdrawn: bedding whole, edge of the hole without water", Excludes: []Code{Leak}},
	{Code: CoreWet, Family: Sample, Source: diagnosis, Check: "plug", Text: "plug or pilot hole: the core is wet", For: []Code{WetCore}, Confirms: []Code{WetCore}},
	{Code: PliesParted, Family: Sample, Source: diagnosis, Check: "plug", Text: "plug: plies parted, water between them", For: []Code{Delamination}, Confirms: []Code{Delamination}},
	{Code: "plies-broken-down", Family: Sample, Source: diagnosis, Check: "plug", Text: "plug: outer plies white or stringy, sour smell", For: []Code{Hydrolysis}, Confirms: []Code{Hydrolysis}},
	{Code: "plug-clear", Family: Sample, Source: diagnosis, Check: "plug", Text: "plug: plies bonded, core without free water, no smell", Excludes: []Code{WetCore, Delamination}, Against: []Code{Hydrolysis}},
	{Code: "thermal-patch", Family: Visual, Source: diagnosis, Check: "thermal", Text: "thermal look at dusk: the patch stands out", For: []Code{SomethingBehind, LinerOrBilge, Leak, WetCore, Delamination}, Against: []Code{ConductiveCoating, Hand}},
	{Code: "thermal-none", Family: Visual, Source: diagnosis, Check: "thermal", Text: "thermal look at dusk: nothing stands out", Against: []Code{WetCore, SomethingBehind}},
	{Code: "echo-lost", Family: Acoustic, Source: diagnosis, Check: "ultrasonic", Text: "ultrasonic: no echo from the back wall", For: []Code{Delamination, DryDisbond}},
	{Code: "echo-there", Family: Acoustic, Source: diagnosis, Check: "ultrasonic", Text: "ultrasonic: echo from the back wall as elsewhere", Against: []Code{Delamination, DryDisbond}},
	{Code: "wash-carries", Family: Chemical, Source: diagnosis, Check: "wash", Text: "wash water conducts more than the supply, or is sour", For: []Code{Residue}},
	{Code: "wash-clean", Family: Chemical, Source: diagnosis, Check: "wash", Text: "wash water like the supply, neutral", Against: []Code{Residue}},
	{Code: "blisters-empty", Family: Chemical, Source: diagnosis, Check: "open-blisters", Text: "opened: empty cavities, no smell", Points: "deflated or coating blisters", Against: []Code{Hydrolysis}},
	{Code: "nothing-in-records", Family: Records, Source: conduct, Check: "map", Text: "drawings and a look inside show nothing there", Against: []Code{SomethingBehind, LinerOrBilge, Leak}},
}
