package domain

import "slices"

// Action is something a use case lets an actor do.
type Action string

// The actions, by area.
const (
	ReadPractice   Action = "read what the practice keeps"
	ReadDiary      Action = "read the diary of haul-outs"
	ManagePractice Action = "change the practice's settings"
	ManageMembers  Action = "invite and change members"
	ManageKeys     Action = "make and revoke API keys"
	WritePeople    Action = "write people and organisations"
	WriteTools     Action = "write instruments and scales"
	WriteVessel    Action = "write vessels, places and plans"
	Book           Action = "book jobs, haul-outs and visits"
	WriteVisit     Action = "write what a visit found"
	CloseJob       Action = "close or cancel a job"
	WriteReport    Action = "write a report"
	Recommend      Action = "write recommendations"
	JudgeCauses    Action = "judge causes"
	Issue          Action = "issue a report"
	Share          Action = "share a report"
	SignGates      Action = "sign a coating gate"
	ReadMoney      Action = "read invoices and what is owed"
	ReadFigures    Action = "read the figures of the practice"
	WriteMoney     Action = "write invoices and note payments"
	Audit          Action = "read the record of changes"
	ReadShared     Action = "read what was shared with a client"
	AnswerShared   Action = "answer what was shared with a client"
	KeepPrivacy    Action = "export and erase what is kept about people"
	HoldFiles      Action = "hold a file"
	LiftHolds      Action = "lift a hold"
)

// permissions is the one table of who may do what. A guest writes what a visit found
// in the jobs he or she was let into; the use case asks that too.
var permissions = map[Action][]Role{
	ReadPractice:   {Principal, Surveyor, Trainee, Office, Guest},
	ReadDiary:      {Principal, Surveyor, Trainee, Office}, // a subcontractor sees the jobs it was let into, not every boat ashore
	ManagePractice: {Principal},
	ManageMembers:  {Principal, Office},
	ManageKeys:     {Principal},
	WritePeople:    {Principal, Surveyor, Office},
	WriteTools:     {Principal, Surveyor, Office},
	WriteVessel:    {Principal, Surveyor, Trainee, Office},
	Book:           {Principal, Surveyor, Office},
	WriteVisit:     {Principal, Surveyor, Trainee, Guest},
	CloseJob:       {Principal, Surveyor, Office},
	WriteReport:    {Principal, Surveyor, Trainee},
	Recommend:      {Principal, Surveyor, Trainee},
	JudgeCauses:    {Principal, Surveyor}, // it stands in the file with a surveyor's name
	Issue:          {Principal, Surveyor},
	Share:          {Principal, Surveyor, Office},
	SignGates:      {Principal, Surveyor},
	ReadMoney:      {Principal, Surveyor, Office}, // whoever sends a link is told whether it is held
	WriteMoney:     {Principal, Office},
	ReadFigures:    {Principal},
	Audit:          {Principal},
	ReadShared:     {Client}, // and nothing else is a client's
	AnswerShared:   {Client},
	KeepPrivacy:    {Principal},
	HoldFiles:      {Principal, Surveyor, Office}, // whoever hears of a dispute first
	LiftHolds:      {Principal},
}

// Actions lists every action, for tests and for the page that shows the table.
func Actions() []Action {
	actions := make([]Action, 0, len(permissions))
	for a := range permissions {
		actions = append(actions, a)
	}
	slices.Sort(actions)
	return actions
}

// Allowed lists the roles that an action is open to.
func Allowed(do Action) []string {
	roles := make([]string, len(permissions[do]))
	for k, r := range permissions[do] {
		roles[k] = string(r)
	}
	return roles
}

// May answers nil where the actor may do it. Nobody gets ErrUnauthenticated.
func May(a Actor, do Action) error {
	if a.Means == "" {
		return ErrUnauthenticated
	}
	if a.Means == BySelf {
		return nil
	}
	for _, r := range permissions[do] {
		if a.Has(r) {
			return nil
		}
	}
	return Forbiddenf("Your role in this practice does not let you %s.", do)
}
