package render

import (
	"embed"
	"sync"
	"unicode/utf8"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/tagged"
)

// fonts holds Barlow and Old Standard TT under the SIL Open Font License, texts beside
// them: TrueType for the PDF (from npm @expo-google-fonts/barlow 0.4.1 and
// @expo-google-fonts/old-standard-tt 0.1.0), WOFF2 for the page (@fontsource/barlow and
// @fontsource/old-standard-tt 5.3.0).
//
//go:embed fonts/*.ttf fonts/*.woff2
var fonts embed.FS

// sources are read once a process.
var sources = sync.OnceValues(func() (map[string]*tagged.Source, error) {
	out := map[string]*tagged.Source{}
	for _, name := range []string{"Barlow_400Regular", "Barlow_400Regular_Italic", "Barlow_500Medium", "Barlow_600SemiBold", "OldStandardTT_400Regular", "OldStandardTT_400Regular_Italic"} {
		b, err := fonts.ReadFile("fonts/" + name + ".ttf")
		if err != nil {
			return nil, err
		}
		if out[name], err = tagged.ReadFont(b); err != nil {
			return nil, err
		}
	}
	return out, nil
})

// types are the letters of one document. Where Barlow has no letter (Cyrillic, some of
// Greek) Old Standard stands in; what neither has is printed as □.
type types struct {
	text, italic, medium, strong, title, titleItalic *tagged.Type
}

func newTypes(d *tagged.Document) (types, error) {
	src, err := sources()
	if err != nil {
		return types{}, err
	}
	face := func(name string) *tagged.Face { return d.Face(src[name]) }
	text, italic := face("Barlow_400Regular"), face("Barlow_400Regular_Italic")
	medium, strong := face("Barlow_500Medium"), face("Barlow_600SemiBold")
	title, slanted := face("OldStandardTT_400Regular"), face("OldStandardTT_400Regular_Italic")
	return types{
		text: tagged.NewType(text, title), italic: tagged.NewType(italic, slanted, title), medium: tagged.NewType(medium, text, title),
		strong: tagged.NewType(strong, text, title), title: tagged.NewType(title, text, title), titleItalic: tagged.NewType(slanted, italic, title),
	}, nil
}

// blanks tells whether □ stands for a letter anywhere in a report.
func (t types) blanks(r report.Report) bool {
	all, err := report.Encode(r)
	if err != nil {
		return true // rather said in vain than not said
	}
	beyond := map[rune]bool{}
	for _, letter := range tagged.Clean(string(all)) {
		if letter >= utf8.RuneSelf {
			beyond[letter] = true
		}
	}
	for letter := range beyond {
		if !t.text.Has(string(letter)) {
			return true
		}
	}
	return false
}

// blankNote says what □ is.
var blankNote = []span{{text: "□ stands for a letter that the type of this file does not have. The letter itself is kept with it: searching, copying and reading aloud find it, and the web page of this report shows it."}}

func (t types) of(s span) *tagged.Type {
	if s.strong {
		return t.strong
	}
	return t.text
}
