package partslist

import "strings"

var (
	negative = lazily(`^[-−–]\s*\d`)
	// goneAway is a remark, or a clause of one, that tells that the part is not there any
	// more. "Sold by the pair" tells how it is sold, "to be sold" and "sold?" nothing yet.
	goneAway = lazily(`^(?i)(?:(?:already|schon|déjà)\s+)?(?:` +
		`(?:sold|verkauft|vendue?s?)(?:\s+(?:to|an|à)\s.+|\s+(?:(?:on|in|for|am|im|für|pour|le|en)\s+)?\D{0,12}\d.*)?|` +
		`given\s+(?:away|back|to\s.+)|gave\s+(?:(?:it|them)\s+)?(?:away|back|to\s.+)|` +
		`verschenkt(?:\s.+)?|weggegeben|donnée?s?(?:\s+à\s.+)?|` +
		`lent\s+to\s.+|verliehen(?:\s.+)?|prêtée?s?\s+à\s.+|` +
		`scrapped|binned|thrown\s+away|weggeworfen|entsorgt|verschrottet|jetée?s?|` +
		`stolen|gestohlen|volée?s?|lost|verloren|perdue?s?|missing|fehlt|(?:sent|returned)\s+back(?:\s.+)?)[.!]?$`)
)

// noneBy tells what of a remark says that none of a part is there; empty where nothing does.
func noneBy(remark string) string {
	for _, clause := range strings.FieldsFunc(remark, func(c rune) bool { return c == '\n' || c == ';' || c == ',' }) {
		if clause = strings.TrimSpace(clause); goneAway().MatchString(clause) {
			return clause
		}
	}
	return ""
}

// isNone reports whether a quantity says that there is none: less than none, or a word
// such as "missing".
func isNone(text string) bool {
	status, ok := statusOf(text, asksGot)
	return negative().MatchString(text) || ok && status == Missing
}
