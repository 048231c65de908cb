package demo

import "boottop.example/practice/domain"

// house is a practice of the scenario.
type house struct {
	key, name, zone, currency string
	address, email, phone     string
	units                     string
	review                    bool
}

var houses = []house{
	{key: "ebbstone", name: "Ebbstone Practice", zone: harbourZone, currency: "EUR", address: "3 Ropewalk Steps\nPort Skerrow", email: "office@ebbstone.example", phone: "+00 20 5550 118", units: "metric", review: true},
	{key: "marram", name: "Marram Point Surveys", zone: "America/Halifax", currency: "CAD", address: "Marram Point Landing\nHolm Gat", email: "desk@marrampoint.example", phone: "+00 90 5550 173", units: "imperial"},
}

// person is a member of a practice.
type person struct {
	key, house, name, email string
	password                string
	roles                   []domain.Role
	qualification           string
	gone                    int // days ago that he or she left; 0: still there
}

// members, the first of each house its principal. Passwords open the scenario only.
var members = []person{
	{key: "varrow", house: "ebbstone", name: "I. Varrow", email: "varrow@ebbstone.example", password: "tide tables by lamplight", roles: []domain.Role{domain.Principal, domain.Surveyor}, qualification: "surveyor, thirty years with glass fibre"},
	{key: "maddern", house: "ebbstone", name: "S. Maddern", email: "maddern@ebbstone.example", password: "seven grey seals asleep", roles: []domain.Role{domain.Surveyor}, qualification: "surveyor"},
	{key: "quillan", house: "ebbstone", name: "R. Quillan", email: "quillan@ebbstone.example", password: "chalk marks on antifouling", roles: []domain.Role{domain.Surveyor}, qualification: "surveyor"},
	{key: "tolland", house: "ebbstone", name: "E. Tolland", email: "tolland@ebbstone.example", password: "moved away up the coast", roles: []domain.Role{domain.Surveyor}, qualification: "surveyor", gone: 1500},
	{key: "trainee", house: "ebbstone", name: "D. Ferrow", email: "ferrow@ebbstone.example", password: "hammer and small torch", roles: []domain.Role{domain.Trainee}},
	{key: "office", house: "ebbstone", name: "H. Tressock", email: "tressock@ebbstone.example", password: "kettle on the harbour wall", roles: []domain.Role{domain.Office}},
	{key: "guest", house: "ebbstone", name: "J. Sparling", email: "sparling@rigging.example", password: "up the mast at slack water", roles: []domain.Role{domain.Guest}},
	{key: "aldane", house: "marram", name: "C. Aldane", email: "aldane@marrampoint.example", password: "fog signal every minute", roles: []domain.Role{domain.Principal, domain.Surveyor}, qualification: "surveyor"},
	{key: "marram office", house: "marram", name: "T. Wexley", email: "wexley@marrampoint.example", password: "red can to port inward", roles: []domain.Role{domain.Office}},
}

// folk are people and organisations that the practices deal with.
type folk struct {
	key, house, name, email, phone, address string
	organisation, yard                      bool
	notes                                   string
}

var others = []folk{
	{key: "tarrow", house: "ebbstone", name: "Tarrow Slip", organisation: true, yard: true, email: "yard@tarrowslip.example", phone: "+00 20 5550 140", address: "Tarrow Slip, Port Skerrow", notes: "Lifts Monday to Thursday, two hours either side of high water. Props are theirs to move."},
	{key: "hallow", house: "ebbstone", name: "Hallow Quay", organisation: true, yard: true, email: "hard@hallowquay.example", phone: "+00 20 5550 152", address: "Hallow Quay, Port Skerrow", notes: "Shed with heat, six boats. Heat off on request the night before."},
	{key: "ferrant", house: "ebbstone", name: "A. Ferrant", email: "a.ferrant@post.example", phone: "+00 20 5550 201"},
	{key: "ferrant again", house: "ebbstone", name: "Anneke Ferrant", phone: "20 5550 201"}, // the same person, written down twice
	{key: "skerrow mutual", house: "ebbstone", name: "Skerrow Mutual", organisation: true, email: "desk@skerrow-mutual.example", phone: "+00 20 5550 300"},
	{key: "lorne", house: "ebbstone", name: "K. Lorne", email: "k.lorne@post.example"},
	{key: "oake", house: "ebbstone", name: "B. Oake", email: "b.oake@post.example", phone: "+00 20 5550 214"},
	{key: "brask", house: "ebbstone", name: "M. Brask", email: "m.brask@post.example", phone: "+00 20 5550 222"},
	{key: "wenlow", house: "ebbstone", name: "E. Wenlow", email: "e.wenlow@post.example"},
	{key: "sarne", house: "ebbstone", name: "P. Sarne", email: "p.sarne@post.example"},
	{key: "dunmere", house: "ebbstone", name: "The Dunmere family", organisation: true, email: "dunmere@post.example"},
	{key: "harrack", house: "ebbstone", name: "L. Harrack", email: "l.harrack@post.example"},
	{key: "pascombe", house: "ebbstone", name: "G. Pascombe", email: "g.pascombe@post.example"},
	{key: "thrale", house: "ebbstone", name: "W. Thrale", email: "w.thrale@post.example"},
	{key: "iver", house: "ebbstone", name: "N. Iver", email: "n.iver@post.example"},
	{key: "roskill", house: "ebbstone", name: "Roskill & Daughter, yacht brokers", organisation: true, email: "desk@roskill.example"},
	{key: "landing", house: "marram", name: "Marram Point Landing", organisation: true, yard: true, email: "yard@marrampoint.example"},
	{key: "corley", house: "marram", name: "D. Corley", email: "d.corley@post.example"},
	{key: "weir", house: "marram", name: "S. Weirling", email: "s.weirling@post.example"},
}
