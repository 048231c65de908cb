package practice

import (
	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// maxPage is the most that one page of a list may hold.
const maxPage = 200

// Page asks for part of a list that is ordered by a text and an id.
type Page struct {
	First     int    // how many; the reader answers one more where there are more
	AfterText string // the text and id of the last one seen; empty for the first page
	AfterID   uuid.UUID
}

func (p Page) check() error {
	if p.First < 1 || p.First > maxPage {
		return domain.Invalidf("first", "Ask for 1 to %d at a time.", maxPage)
	}
	return nil
}
