package domain

import "github.com/google/uuid"

// Thing is what an id names, as the prefix it carries wherever it leaves the service.
type Thing string

// The kinds of thing that have an id.
const (
	ThingAddendum       Thing = "add"
	ThingAPIKey         Thing = "key"
	ThingAttendanceNote Thing = "atn"
	ThingBlockCheck     Thing = "blk"
	ThingComment        Thing = "cmt"
	ThingCauseCheck     Thing = "chk"
	ThingCondition      Thing = "cnd"
	ThingCrossReadings  Thing = "crs"
	ThingDangerNotice   Thing = "dng"
	ThingDatum          Thing = "dtm"
	ThingEarlyStart     Thing = "esr"
	ThingElement        Thing = "elm"
	ThingEngagement     Thing = "eng"
	ThingEvent          Thing = "evt"
	ThingEvidence       Thing = "evd"
	ThingExamination    Thing = "exa"
	ThingFeed           Thing = "fee"
	ThingFinding        Thing = "fnd"
	ThingGateSignature  Thing = "gsg"
	ThingGuarantee      Thing = "gua"
	ThingInstrument     Thing = "ins"
	ThingInvitation     Thing = "inv"
	ThingInvoice        Thing = "ivc"
	ThingVisitInvite    Thing = "viv"
	ThingJob            Thing = "job"
	ThingJudgement      Thing = "jdg"
	ThingLeave          Thing = "lve"
	ThingMove           Thing = "mve"
	ThingLayer          Thing = "lay"
	ThingMember         Thing = "mem"
	ThingMutation       Thing = "mut"
	ThingNotReached     Thing = "nrd"
	ThingNotice         Thing = "ntc"
	ThingParty          Thing = "pty"
	ThingPartyRole      Thing = "ptr"
	ThingPaper          Thing = "pap"
	ThingPass           Thing = "pas"
	ThingPayment        Thing = "pay"
	ThingPermission     Thing = "prm"
	ThingPhoto          Thing = "pho"
	ThingPlace          Thing = "plc"
	ThingPlan           Thing = "pln"
	ThingPractice       Thing = "prc"
	ThingReading        Thing = "rdg"
	ThingRebound        Thing = "rbd"
	ThingRecommendation Thing = "rec"
	ThingReinspection   Thing = "rei"
	ThingRepeatKit      Thing = "kit"
	ThingReport         Thing = "rep"
	ThingScale          Thing = "scl"
	ThingSection        Thing = "sec"
	ThingScheduleArea   Thing = "sca"
	ThingScheduleItem   Thing = "sci"
	ThingSeenLetter     Thing = "ltr"
	ThingShare          Thing = "shr"
	ThingSheetTest      Thing = "sht"
	ThingSpell          Thing = "spl"
	ThingStanding       Thing = "std"
	ThingState          Thing = "sta"
	ThingTerms          Thing = "trm"
	ThingTermsLink      Thing = "tln"
	ThingUpload         Thing = "upl"
	ThingVessel         Thing = "vsl"
	ThingVisit          Thing = "vis"
	ThingWeather        Thing = "wea"
	ThingWash           Thing = "wsh"
	ThingWindow         Thing = "win"
	ThingWording        Thing = "wrd"
	ThingYardLink       Thing = "yln"
)

// Ref names one thing: its kind and its id.
type Ref struct {
	Kind Thing
	ID   uuid.UUID
}

func (r Ref) String() string { return string(r.Kind) + "_" + r.ID.String() }
