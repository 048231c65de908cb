// Package deploy carries what a deployment and the local services share.
package deploy

import _ "embed"

// Roles makes the three roles and hands the database that it runs in to its owner. A
// superuser runs it, connected to that database; run again it changes nothing.
//
//go:embed roles.sql
var Roles string
