package graph

import (
	"encoding/base64"
	"strings"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
)

// pageOf reads a connection's arguments. A cursor is the ordering text and the id of
// the last one seen, and nobody else's business.
func pageOf(first int32, after *string) (practice.Page, error) {
	page := practice.Page{First: int(first)}
	if after == nil || *after == "" {
		return page, nil
	}
	raw, err := base64.RawURLEncoding.DecodeString(*after)
	id, text, ok := strings.Cut(string(raw), " ")
	if err != nil || !ok {
		return page, badCursor()
	}
	if page.AfterID, err = uuid.Parse(id); err != nil {
		return page, badCursor()
	}
	page.AfterText = text
	return page, nil
}

func badCursor() error {
	return domain.Invalidf("after", "This is no cursor of this list. Take one from pageInfo.endCursor.")
}

func cursor(text string, id uuid.UUID) string {
	return base64.RawURLEncoding.EncodeToString([]byte(id.String() + " " + text))
}

// cut keeps the page asked for out of a list that was read with one more.
func cut[T any](list []T, first int) (page []T, more bool) {
	if len(list) > first {
		return list[:first], true
	}
	return list, false
}

func pageInfo(more bool, end string) model.PageInfo {
	info := model.PageInfo{HasNextPage: more}
	if end != "" {
		info.EndCursor = &end
	}
	return info
}
