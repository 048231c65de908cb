package render

import (
	"encoding/base64"
	"fmt"
	"strings"
	"sync"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
)

// pageStyle is the whole stylesheet with its letters inside: tokens of look/tokens.css,
// the figure's own rules, and those of the report. Dark where the reader asks for dark.
var pageStyle = sync.OnceValues(func() (string, error) {
	var b strings.Builder
	for _, f := range []struct{ family, file, rest string }{
		{"Barlow", "barlow-latin-400-normal", "font-weight:400"},
		{"Barlow", "barlow-latin-400-italic", "font-weight:400;font-style:italic"},
		{"Barlow", "barlow-latin-600-normal", "font-weight:500 700"},
		{"Old Standard TT", "old-standard-tt-latin-400-normal", "font-weight:400"},
		{"Old Standard TT", "old-standard-tt-latin-400-italic", "font-weight:400;font-style:italic"},
	} {
		data, err := fonts.ReadFile("fonts/" + f.file + ".woff2")
		if err != nil {
			return "", err
		}
		b.WriteString("@font-face{font-family:'" + f.family + "';" + f.rest + ";font-display:swap;src:url(data:font/woff2;base64," + base64.StdEncoding.EncodeToString(data) + ")}\n")
	}
	b.WriteString(pageTokens)
	b.WriteString(figure.Stylesheet())
	b.WriteString(pageRules)
	return b.String(), nil
})

// pageMargins are the running head and foot of each sheet that a page is printed on, as the
// PDF has them: the browser numbers the sheets.
func pageMargins(r report.Report) string {
	box := func(where, words string) string {
		return "@" + where + "{content:" + words + ";font:8pt 'Barlow',sans-serif;color:#14202b}"
	}
	head := box("top-left", quoted(title(r)))
	if r.Issue.Draft {
		head = strings.Replace(head, "font:", "font:600 ", 1)
	}
	return "@page{" + head + box("top-right", quoted(practiceWords(r))) +
		box("bottom-left", quoted(footWords(r))) + box("bottom-right", "'page ' counter(page) ' of ' counter(pages)") + "}"
}

// quoted is a text as a string of CSS; every letter that could end it, or the element it
// stands in, is written by its number (CSS Syntax Module Level 3, §4.3.7).
func quoted(text string) string {
	var b strings.Builder
	b.WriteByte('\'')
	for _, letter := range tidy(text) {
		if strings.ContainsRune(`'"\<>&`, letter) {
			fmt.Fprintf(&b, `\%x `, letter)
			continue
		}
		b.WriteRune(letter)
	}
	b.WriteByte('\'')
	return b.String()
}

const pageTokens = `@layer tokens, base, figure;
@layer tokens {
:root { color-scheme: light; --ground: #f5f2e8; --sheet: #fbf9f2; --ink: #14202b; --ink-2: #35424d; --line: #6e7c85; --hair: #c3bfae; --land: #f3e6c4; --water: #dce9ec; --deep: #cbdfe5; --accent: #850e4c; --on-accent: #fbf9f2; --v0: #f9e03a; --v1: #d7c45c; --v2: #938e78; --v3: #434e6c; --v4: #00224e; --on-value: #fbf9f2; --halo: #fbf9f2; --halo-fill: #fbf9f2; --disc-line: 0.8; --w: 400; --w-strong: 600;
--text: 'Barlow', 'DIN Alternate', 'Bahnschrift', system-ui, sans-serif; --title: 'Old Standard TT', 'Old Standard', 'Bodoni 72', 'Didot', 'Times New Roman', serif; }
@media screen and (prefers-color-scheme: dark) { :root { color-scheme: dark; --ground: #10171d; --sheet: #172129; --ink: #ede8da; --ink-2: #c3c8c6; --line: #7c8c96; --hair: #34414b; --land: #2a261b; --water: #15303a; --deep: #1a3a46; --accent: #ff9cc8; --on-accent: #10171d; --halo: #172129; --halo-fill: #ede8da; --disc-line: 1.5; } }
@media screen and (prefers-contrast: more) and (prefers-color-scheme: light) { :root { --ground: #fff; --sheet: #fff; --ink: #000; --ink-2: #000; --line: #000; --hair: #000; --land: #fff3cc; --water: #e2f1f8; --deep: #d3eaf5; --accent: #66003a; --on-accent: #fff; --on-value: #fff; --halo: #fff; --halo-fill: #fff; --disc-line: 1.5; --w: 500; --w-strong: 700; } }
@media print { :root { --ground: #fff; --sheet: #fff; --halo: #fff; --halo-fill: #fff; --on-value: #fff; } }
}
`

const pageRules = `@layer base {
* { box-sizing: border-box; margin: 0; }
html { -webkit-text-size-adjust: 100%; }
body { overflow-wrap: anywhere; background: var(--ground); color: var(--ink); font: var(--w) 1rem/1.45 var(--text); font-variant-numeric: tabular-nums lining-nums; }
h1, h2 { font-family: var(--title); font-weight: 400; line-height: 1.1; }
h1 { font-size: 3rem; overflow-wrap: anywhere; } h2 { font-size: 1.625rem; margin: 28px 0 8px; } h3 { font-size: 1.0625rem; font-weight: 600; margin: 20px 0 4px; }
strong, b { font-weight: var(--w-strong); }
p { max-width: 68ch; overflow-wrap: break-word; } p + p { margin-top: 8px; }
a { color: inherit; text-decoration-color: var(--accent); text-underline-offset: 3px; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
.small, dl, figcaption, .book { font-size: 0.9375rem; }
main { max-width: 1120px; margin: 0 auto; padding: 32px 24px 16px; }
header { border-top: 6px solid var(--ink); border-bottom: 1px solid var(--ink); padding: 16px 0 12px; display: grid; grid-template-columns: minmax(0, 1fr) fit-content(50%); align-items: end; gap: 8px 24px; }
.draft header { border-top-style: dashed; }
.kind { font: italic 1.375rem/1.3 var(--title); } .numbered { text-align: right; }
.front { display: grid; grid-template-columns: minmax(0, 1fr) 300px; gap: 0 32px; }
aside { border-left: 1px solid var(--ink); padding: 0 0 8px 24px; margin-top: 16px; } aside h2:first-child { margin-top: 4px; }
dl { display: grid; grid-template-columns: auto 1fr; gap: 4px 12px; } dt { color: var(--ink-2); } dd { margin: 0; overflow-wrap: anywhere; }
.act a { display: inline-block; background: var(--accent); color: var(--on-accent); font-weight: 600; text-decoration: none; padding: 10px 18px; min-height: 44px; }
.ways { margin-top: 24px; padding: 0; list-style: none; } .ways li { padding: 8px 0; border-top: 1px solid var(--hair); } .ways a { display: inline-block; padding: 4px 0; }
.act + .small { color: var(--ink-2); margin: 6px 0 16px; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; line-height: 1.35; } th, td { text-align: left; vertical-align: baseline; padding: 6px 12px 6px 0; border-bottom: 1px solid var(--hair); }
thead th { font-weight: 400; color: var(--ink-2); border-bottom: 1.5px solid var(--ink); vertical-align: bottom; } tbody th { font-weight: var(--w-strong); }
tr:last-child > * { border-bottom-color: var(--ink); } .num { text-align: right; white-space: nowrap; } .keep { white-space: nowrap; }
.close th, .close td { padding: 2px 14px 2px 0; } .close tr { break-inside: avoid; }
@media (min-width: 900px), print { .twin { columns: 2; column-gap: 40px; overflow: visible; } .twin thead { display: table-header-group; } }
.m { display: inline-block; height: 14px; vertical-align: -2px; margin-right: 7px; overflow: visible; width: auto; } .m.accent { color: var(--accent); }
.m .f { fill: currentColor; } .m .s { fill: none; stroke: currentColor; stroke-width: 1.5; } .m .cut { fill: none; stroke: var(--ground); stroke-width: 2; }
.caution { border-top: 1px solid var(--ink); border-bottom: 1px solid var(--ink); padding: 8px 0; margin-top: 20px; font-size: 0.9375rem; max-width: none; }
.signed { display: flex; flex-wrap: wrap; max-width: 100%; gap: 4px 28px; align-items: end; margin: 16px 0; } .signed > span { max-width: 100%; min-width: 0; overflow-wrap: anywhere; } .hand { border-bottom: 1px solid; flex-basis: 230px; font: italic 1.5rem/1.3 var(--title); }
figure { margin: 12px 0; } .plate .hull { width: 100%; } .phone { display: none; } figcaption { margin-top: 6px; }
.key { list-style: none; padding: 0; display: flex; flex-wrap: wrap; align-items: center; gap: 4px 16px; } .key li { display: inline-flex; align-items: center; white-space: nowrap; } .key .hull { width: 26px; height: 26px; margin-right: 5px; }
.photo { max-width: 760px; } .print { position: relative; border: 1px solid var(--ink); } .print img { display: block; width: 100%; height: auto; } .notes { position: absolute; inset: 0; width: 100%; height: 100%; }
.notes path, .notes circle { fill: none; stroke-linecap: round; } .notes .under { stroke: #fff; stroke-width: 12; } .notes .over { stroke: #850e4c; stroke-width: 6; } .notes text { font: 600 34px var(--text); } .notes text.over { fill: #850e4c; stroke: none; }
footer { max-width: 1120px; margin: 0 auto; padding: 8px 24px 32px; border-top: 1px solid var(--ink); font-size: 0.875rem; display: flex; flex-wrap: wrap; justify-content: space-between; gap: 4px 24px; } footer p { min-width: 0; overflow-wrap: anywhere; } footer p + p { margin: 0; }
.margin { position: fixed; left: 6px; top: 50%; writing-mode: vertical-rl; transform: translateY(-50%) rotate(180deg); font: italic 1.5rem/1 var(--title); }
@media (max-width: 1240px) { .draft main, .draft footer { padding-left: 48px; } }
@media (max-width: 860px) {
  main { padding: 16px; } footer { padding: 8px 16px 24px; } .front { display: block; } aside { border: 0; padding: 0; } header { grid-template-columns: minmax(0, 1fr); } .numbered { text-align: left; } h1 { font-size: 2.5rem; }
  .draft main, .draft footer { padding-left: 40px; } .margin { font-size: 1.25rem; }
}
@media screen and (max-width: 560px) {
  .large { display: none; } .phone { display: block; }
  .book:not(.close), .book:not(.close) tbody, .book:not(.close) tr { display: block; } .book:not(.close) thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .book:not(.close) td[data-head]::before { content: attr(data-head) ': '; color: var(--ink-2); } .book:not(.close) tr { border-bottom: 1px solid var(--hair); padding: 8px 0; } .book:not(.close) tr > * { display: block; border: 0; padding: 1px 0; white-space: normal; }
}
@media print {
  @page { size: auto; margin: 17mm 15mm 18mm; } @page plate { size: landscape; }
  html { font-size: 13px; } p, dd { max-width: none; orphans: 3; widows: 3; } .close { font-size: 11px; } main, footer, .draft main, .draft footer { padding: 0; max-width: none; } footer { margin-top: 16px; padding-top: 6px; }
  header { grid-template-columns: minmax(0, 1fr) fit-content(50%); } .numbered { text-align: right; }
  .front { grid-template-columns: 1fr; display: block; } aside { border: 0; padding: 0; columns: 2; column-gap: 24px; } aside h2 { break-after: avoid; margin-top: 0; } aside dl { break-inside: avoid; }
  .act, .act + .small, .margin { display: none; } h2, h3 { break-after: avoid; } h2 { margin: 18px 0 6px; } h3 { margin: 12px 0 3px; } tr, figure, .signed, .caution { break-inside: avoid; } thead { display: table-header-group; } .scroll { overflow: visible; } a { text-decoration: none; }
  .plate { page: plate; break-before: page; break-after: page; } .plate .hull { max-height: 124mm; } .photo { max-width: min(100%, calc(104mm * var(--shape))); }
}
}
@layer figure {
.key .hull.small { display: none; }
@media screen and (max-width: 560px) { .key .hull { display: none; } .key .hull.small { display: block; } }
}
`
