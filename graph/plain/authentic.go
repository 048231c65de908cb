package plain

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
)

// authentic is what is told of issued bytes: nothing that they do not say themselves, and
// what came after them.
type authentic struct {
	File         string      `json:"file"` // pdf or page
	Number       string      `json:"number"`
	State        string      `json:"state"` // issued, amended, replaced or withdrawn
	IssuedAt     time.Time   `json:"issuedAt"`
	PracticeName string      `json:"practiceName"`
	ReplacedBy   string      `json:"replacedBy,omitempty"`
	EndedBecause string      `json:"endedBecause,omitempty"` // why it was replaced or withdrawn
	EndedAt      *time.Time  `json:"endedAt,omitempty"`
	Addenda      []time.Time `json:"addenda"`            // when each was issued, by number
	Addendum     int32       `json:"addendum,omitempty"` // they are the file of this addendum
	Invented     bool        `json:"invented"`
}

// known answers whether bytes of a SHA-256, in hexadecimal, were issued here. The file
// itself never leaves the asker's machine.
func (s Reports) known(w http.ResponseWriter, r *http.Request) {
	private(w)
	sum, err := hex.DecodeString(r.PathValue("sha256"))
	if err != nil || len(sum) != sha256.Size {
		answer.Fault(w, r, domain.Invalidf("sha256", "A SHA-256 is 64 hexadecimal digits."))
		return
	}
	found, err := s.Practice.Authentic(r.Context(), [sha256.Size]byte(sum))
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	file := "page"
	if found.Pdf {
		file = "pdf"
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(authentic{
		File: file, Number: found.Number, State: found.State, IssuedAt: found.IssuedAt, PracticeName: found.PracticeName, ReplacedBy: found.ReplacedBy,
		EndedBecause: found.EndedBecause, EndedAt: found.EndedAt, Addenda: append([]time.Time{}, found.Addenda...), Addendum: found.Addendum, Invented: found.Invented,
	})
}
