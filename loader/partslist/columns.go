package partslist

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// Field is what a column holds.
type Field string

// The fields of a list.
const (
	FieldNumber   Field = "number"
	FieldName     Field = "name"
	FieldQuantity Field = "quantity"
	FieldPrice    Field = "price"
	FieldTotal    Field = "total"
	FieldNote     Field = "note"
	FieldStatus   Field = "status"
	FieldPlace    Field = "place"
	FieldGroup    Field = "assembly"
	FieldYears    Field = "years"
	FieldModel    Field = "model"
	FieldMaker    Field = "maker"
	FieldDiagram  Field = "diagram"
	FieldSize     Field = "size"
	FieldTorque   Field = "torque"
	FieldBox      Field = "box"
	FieldNewer    Field = "superseded by"
	FieldOlder    Field = "supersedes"
	FieldBought   Field = "bought"
	FieldOrdered  Field = "ordered"
	FieldArrived  Field = "arrived"
	FieldMixed    Field = "mixed text"
	FieldNothing  Field = "ignore"
	fieldNotKnown Field = ""
)

// Fields are all fields, in the order a person is offered them.
func Fields() []Field {
	return []Field{FieldNumber, FieldName, FieldQuantity, FieldPrice, FieldTotal, FieldNote, FieldStatus, FieldPlace,
		FieldGroup, FieldYears,
		FieldModel, FieldMaker, FieldDiagram, FieldSize, FieldTorque, FieldBox, FieldNewer, FieldOlder, FieldBought,
		FieldOrdered, FieldArrived, FieldNothing}
}

// headingWords are the headings of a field by language, folded. A "!" in front
// is a heading that says so by itself, whatever stands below.
var headingWords = [...]struct {
	field    Field
	language string
	words    string
}{
	{FieldNumber, "en", "!part no|!art no|!part number|!part nr|!partno|!pn|!p/n|!part #|!oem|!oem no|!oem " +
		"number|!number|!stock no|!item no|!item number|!article|!article no|no|ref|ref no|reference|code|part " +
		"code|part|sku|numbers|part numbers|catalogue no"},
	{FieldNumber, "de", "!teilenr|!art nr|!artnr|!teilenummer|!teile nr|!teil nr|!artikelnummer|!artikelnr|!artikel " +
		"nr|!bestellnummer|!bestellnr|!bestell nr|!ersatzteilnummer|!ersatzteilnr|!et " +
		"nr|!nummer|!originalnummer|nr|artikel|art|best nr|sachnummer"},
	{FieldNumber, "fr", "!reference|!ref piece|!numero de piece|!no de piece|!numero|!reference piece|!n piece|code|ref"},
	{FieldNumber, "it", "!codice|!codice ricambio|!numero ricambio"}, {FieldNumber, "es", "!referencia|!numero de " +
		"pieza|!codigo"},
	{FieldNumber, "nl", "!onderdeelnummer|!artikelnummer"}, {FieldNumber, "sv", "!artikelnr|!reservdelsnummer|!detaljnr"},
	{FieldName, "en", "!description|!name|!part name|!designation|!part " +
		"description|!title|what|item|items|part|parts|component|details|descr|desc"},
	{FieldName, "de", "!artikelname|!bezeichnung|!benennung|!beschreibung|!name|!teilebezeichnung|!artikelbezeichnung" +
		"|teil|artikel|was|gegenstand|text|bauteil"},
	{FieldName, "fr", "!designation|!description|!libelle|!nom|piece|article|quoi"},
	{FieldName, "it", "!descrizione|!denominazione|articolo"}, {FieldName, "es", "!descripcion|!denominacion|pieza"},
	{FieldName, "nl", "!omschrijving|!benaming"}, {FieldName, "sv", "!benamning|!beskrivning"},
	{FieldQuantity, "en", "!qty|!quantity|!no off|!off|!how many|!count|!pcs|!needed qty|!amount|!quant|number " +
		"off|nos|req|required|needed|pieces"},
	{FieldQuantity, "de", "!stk|!stck|!stuck|!stuckzahl|!menge|!anzahl|!anz"},
	{FieldQuantity, "fr", "!qte|!quantite|!nombre|!nb|!qt"},
	{FieldQuantity, "it", "!quantita|!qta|!pezzi"}, {FieldQuantity, "es", "!cantidad|!cant|!uds"}, {FieldQuantity, "nl",
		"!aantal"}, {FieldQuantity, "sv", "!antal"},
	{FieldPrice, "en", "!price|!each|!unit price|!price each|!cost|!cost each|!paid|!rrp|£|€|$|eur|gbp|usd|per " +
		"piece|value"},
	{FieldPrice, "de", "!preis|!einzelpreis|!stuckpreis|!ep|!ek|!vk|!neupreis|!kosten|!vk|euro|dm"},
	{FieldPrice, "fr", "!prix|!prix unitaire|!pu|!cout|!pu ht|!pu ttc"},
	{FieldPrice, "it", "!prezzo|!prezzo unitario"}, {FieldPrice, "es", "!precio"}, {FieldPrice, "nl", "!prijs"},
	{FieldPrice, "sv", "!pris"},
	{FieldTotal, "en", "!total|!line total|!sum|!amount due|!total price|!subtotal"}, {FieldTotal, "de",
		"!gesamt|!summe|!gesamtpreis|!gp|!betrag"},
	{FieldTotal, "fr", "!prix total|!total|!montant"}, {FieldTotal, "it", "!totale"}, {FieldTotal, "sv", "!summa"},
	{FieldNote, "en", "!notes|!note|!remarks|!remark|!comment|!comments|!info|!memo|!condition"},
	{FieldNote, "de", "!bemerkung|!bemerkungen|!anmerkung|!anmerkungen|!notiz|!notizen|!hinweis|!kommentar|!zustand"},
	{FieldNote, "fr", "!remarque|!remarques|!note|!notes|!commentaire|!commentaires|!observations|!etat"},
	{FieldNote, "it", "!note|!osservazioni"}, {FieldNote, "es", "!notas|!observaciones"}, {FieldNote, "nl",
		"!opmerking|!opmerkingen"}, {FieldNote, "sv", "!anmarkning|!kommentar"},
	{FieldStatus, "en", "!got|!got it|!have|!status|!state|!received|!in stock|!have it|!missing|!still " +
		"needed|!need|!stock|!done|!check"},
	{FieldStatus, "de", "!vorhanden|!status|!da|!fehlt|!erhalten|!bestand|!lager|!erledigt|!besorgt"},
	{FieldStatus, "fr", "!recu|!statut|!en stock|!manque|!present|!stock"}, {FieldStatus, "it", "!stato|!ricevuto"},
	{FieldStatus, "es", "!estado|!recibido"},
	{FieldPlace, "en", "!where|!position|!place|!location on bike|!where fitted|!fitted to|!used on|!goes where|location"},
	{FieldPlace, "de", "!wo|!ort|!stelle|!einbauort|!position|!einbaulage|!verwendung|!wohin"},
	{FieldPlace, "fr", "!ou|!emplacement|!position|!endroit"}, {FieldPlace, "it", "!dove|!posizione"}, {FieldPlace, "es",
		"!donde|!posicion"},
	{FieldGroup, "en", "!assembly|!group|!section|!category|!system|!area"}, {FieldGroup, "de",
		"!baugruppe|!gruppe|!bereich|!kategorie"},
	{FieldGroup, "fr", "!ensemble|!groupe|!section|!categorie"}, {FieldGroup, "it", "!gruppo"}, {FieldGroup, "es",
		"!grupo"},
	{FieldYears, "en", "!years|!year|!fits|!model year|!model years|!from to|!application|!my"}, {FieldYears, "de",
		"!baujahr|!bj|!jahr|!jahre|!baujahre|!modelljahr|!passt"},
	{FieldYears, "fr", "!annee|!annees|!an|!millesime"}, {FieldYears, "it", "!anno|!anni"}, {FieldYears, "es",
		"!ano|!anos"},
	{FieldModel, "en", "!model|!bike|!machine|!models|!for model"}, {FieldModel, "de",
		"!modell|!typ|!motorrad|!fahrzeug|!maschine"}, {FieldModel, "fr", "!modele|!moto|!type"},
	{FieldModel, "it", "!modello"}, {FieldModel, "es", "!modelo"},
	{FieldMaker, "en", "!maker|!make|!brand|!manufacturer|!mfr|!supplier part maker"}, {FieldMaker, "de",
		"!hersteller|!marke|!fabrikat"}, {FieldMaker, "fr", "!marque|!fabricant|!constructeur"},
	{FieldMaker, "it", "!marca|!produttore"}, {FieldMaker, "es", "!marca|!fabricante"},
	{FieldDiagram, "en", "!diagram|!diagram no|!fig|!figure|!key|!fig no|!callout|!index|!line|!item #|!line #|!line " +
		"no|!#|pos|ref|ref no|item|no|#|pos no"}, {FieldDiagram, "de", "!bild|!bildnr|!abb|!lfd|!lfd " +
		"nr|!zeile|pos|nr|bild nr|position"},
	{FieldDiagram, "fr", "!repere|!rep|!fig|!ligne|n"},
	{FieldSize, "en", "!size|!thread|!bolt|!bolts|!fastener|!fasteners|!hardware|!dimensions|!spec|!bolts bits|screws"},
	{FieldSize, "de", "!grosse|!gewinde|!schraube|!schrauben|!mass|!masse|!abmessung|!normteil"},
	{FieldSize, "fr", "!taille|!filetage|!visserie|!vis|!dimensions"},
	{FieldTorque, "en", "!torque|!nm|!tightening torque|!nm / ft lb|!ft lb|!lb ft|!torque nm"}, {FieldTorque, "de",
		"!drehmoment|!anzugsmoment|!anzugsdrehmoment|!anziehdrehmoment"}, {FieldTorque, "fr", "!couple|!couple de serrage"},
	{FieldBox, "en", "!box|!crate|!shelf|!bin|!drawer|!bag|!location in garage"}, {FieldBox, "de",
		"!kiste|!karton|!regal|!fach|!lagerort|!schublade|!tute|!beutel"}, {FieldBox, "fr",
		"!boite|!caisse|!carton|!etagere|!casier|!sachet"},
	{FieldNewer, "en", "!superseded by|!replaced by|!new number|!new no|!new part no|!now"}, {FieldNewer, "de",
		"!ersetzt durch|!neue nummer|!neue nr|!neu"}, {FieldNewer, "fr", "!remplace par|!nouvelle reference"},
	{FieldOlder, "en", "!supersedes|!replaces|!old number|!old no|!old part no|!was"}, {FieldOlder, "de",
		"!ersetzt|!alte nummer|!alte nr|!alt"}, {FieldOlder, "fr", "!remplace|!ancienne reference"},
	{FieldBought, "en", "!bought|!date|!purchased|!date bought|!when"}, {FieldBought, "de",
		"!gekauft|!datum|!kaufdatum|!wann"}, {FieldBought, "fr", "!achete|!date|!achete le"},
	{FieldOrdered, "en", "!ordered|!date ordered|!order date"}, {FieldOrdered, "de",
		"!bestellt|!bestelldatum|!bestellt am"}, {FieldOrdered, "fr", "!commande|!commande le|!date commande"},
	{FieldArrived, "en", "!arrived|!date arrived|!delivered|!date received"}, {FieldArrived, "de",
		"!angekommen|!geliefert|!eingang|!geliefert am"}, {FieldArrived, "fr", "!arrive|!livre|!livre le|!recu le"},
	// What a list of parts does not need, and an address book has.
	{FieldNothing, "en", "!phone|!tel|!telephone|!address|!email|!e mail|!web|!website|!postcode|!good for|!opening " +
		"hours|!link|!url|!photo|!picture|!weight|!barcode|!ean"},
	{FieldNothing, "de", "!telefon|!adresse|!anschrift|!ort plz|!plz|!mail|!gewicht|!bild link"}, {FieldNothing, "fr",
		"!telephone|!adresse|!courriel|!poids"},
}

// named is how strongly a heading speaks for a field: 2 when it says so by
// itself, 1 when it may, 0 when it does not; and the language of the words.
type named struct {
	strength int
	language string
}

// readHeading gives what a heading may name.
func readHeading(heading string) map[Field]named {
	h := strings.Trim(Fold(heading), "/ ")
	found := map[Field]named{}
	note := func(f Field, n named) {
		if n.strength > found[f].strength {
			found[f] = n
		}
	}
	if h == "" {
		return found
	}
	for _, entry := range headingWords {
		for _, words := range strings.Split(entry.words, "|") {
			plain, sure := strings.CutPrefix(words, "!")
			if h == plain {
				note(entry.field, named{1 + btoi(sure), entry.language})
			}
		}
	}
	if len(found) > 0 {
		return found
	}
	if headingCurrency(heading, "") != "" {
		note(FieldPrice, named{1, ""})
	}
	// A heading of several words may hold one that is known: "price each (£)".
	for _, entry := range headingWords {
		for _, words := range strings.Split(entry.words, "|") {
			plain, sure := strings.CutPrefix(words, "!")
			if sure && len(plain) > 2 && len(strings.Fields(h)) <= 5 && HasWord(h, plain) {
				note(entry.field, named{1, entry.language})
			}
		}
	}
	return found
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// findHeader gives the rows of the heading, from 0: the row, among the first
// ones, in which the most cells name a field; with the row above or below when
// that names fields too. None when no row does.
func findHeader(g grid) []int {
	best, bestScore := -1, 0
	for i := 0; i < min(len(g.rows), 40); i++ {
		if score := headerScore(g.rows[i]); score > bestScore {
			best, bestScore = i, score
		}
	}
	if best < 0 || bestScore < 3 {
		return nil
	}
	if best > 0 && headerScore(g.rows[best-1]) >= 2 && filled(g.rows[best-1]) >= 2 {
		return []int{best - 1, best}
	}
	if best+1 < len(g.rows) && headerScore(g.rows[best+1]) >= 4 && filled(g.rows[best+1]) >= 2 {
		return []int{best, best + 1}
	}
	return []int{best}
}

func filled(row []cell) int {
	n := 0
	for _, c := range row {
		if c.text != "" {
			n++
		}
	}
	return n
}

// headerScore counts the fields that a row names; a cell that holds a value
// makes it no heading.
func headerScore(row []cell) int {
	score, cells := 0, 0
	seen := map[Field]bool{}
	for _, c := range row {
		if c.text == "" {
			continue
		}
		cells++
		if c.typed != cellText || len(c.text) > 60 || allDigits(c.text) {
			return 0
		}
		best := 0
		for f, n := range readHeading(c.text) {
			if !seen[f] {
				best = max(best, n.strength)
			}
			seen[f] = true
		}
		if best == 0 && hasDigit(c.text) {
			return 0
		}
		score += best
	}
	if cells < 2 || score == 0 {
		return 0
	}
	return score
}

// headings are the words above each column. Of two rows the upper one, whose
// words run over merged cells to the right, goes in front.
func headings(g grid, rows []int) []string {
	words := make([]string, g.width())
	if len(rows) == 0 {
		return words
	}
	last := rows[len(rows)-1]
	for i := range words {
		words[i] = strings.Join(strings.Fields(g.at(last, i).text), " ")
	}
	if len(rows) == 2 {
		over := ""
		for i := range words {
			if upper := g.at(rows[0], i).text; upper != "" {
				over = upper
			} else if words[i] == "" {
				over = ""
			}
			if over != "" && over != words[i] {
				words[i] = strings.TrimSpace(strings.Join(strings.Fields(over), " ") + " " + words[i])
			}
		}
	}
	return words
}

// content is what the values of a column look like, each a share from 0 to 1 of
// those that are filled.
type content struct {
	filled                                                         int
	number, text, small, ordinal, money, status, years, size, date float64
	distinct, container                                            float64
	empty                                                          bool
}

// look weighs the values of a column.
func look(values []cell) content {
	var c content
	seen := map[string]bool{}
	previous := 0.0
	for _, v := range values {
		if v.text == "" {
			continue
		}
		c.filled++
		seen[strings.ToLower(v.text)] = true
		if n, _ := countOf(v.text); allDigits(v.text) && len(v.text) <= 3 {
			if f := float64(n); f == previous+1 || f == 1 {
				c.ordinal++
			}
			previous = float64(n)
		}
		c.see(v)
	}
	if c.filled == 0 {
		return content{empty: true}
	}
	n := float64(c.filled)
	for _, share := range []*float64{&c.number, &c.text, &c.small, &c.ordinal, &c.money, &c.status, &c.years, &c.size,
		&c.date, &c.container} {
		*share /= n
	}
	c.distinct = float64(len(seen)) / n
	return c
}

// see counts one value by all that it looks like.
func (c *content) see(v cell) {
	text := v.text
	if _, _, lost := lostNumber(text, v.typed); lost && v.typed != cellDate || looksLikeNumber(text) &&
		!threeParts().MatchString(text) {
		c.number++
	}
	if letters(text) >= 3 && letters(text)*2 > len([]rune(text)) {
		c.text++
	}
	if n, isCount := countOf(text); isCount && n < 1000 || strings.Trim(text, "?") == "" ||
		roughly().MatchString(text) && hasDigit(text) {
		c.small++
	}
	if _, currency, ok := (figures{".", ""}).price(strings.ReplaceAll(text, ",", "."), "fr"); ok && (currency != "" ||
		strings.ContainsAny(text, ".,")) {
		c.money++
	}
	if _, _, ok := readState(text, asksGot); ok || strings.EqualFold(text, "x") {
		c.status++
	}
	if !allDigits(text) || len(text) == 4 {
		if when, _, why := readYears(strings.TrimRight(text, "?")); why == "" && !when.IsZero() && !looksLikeCount(text) {
			c.years++
		}
	}
	c.container += b2f(container().MatchString(text))
	if looksLikeHardware(text) {
		c.size++
	}
	if _, ok := dayOf(text, ""); ok || v.typed == cellDate {
		c.date++
	}
}

func looksLikeCount(text string) bool { _, ok := countOf(text); return ok }

func letters(text string) int {
	n := 0
	for _, r := range text {
		if unicode.IsLetter(r) {
			n++
		}
	}
	return n
}

// fitsField is how well content suits a field, from -1 to 1.
func (c content) fitsField(f Field) float64 {
	if c.empty {
		return 0
	}
	switch f {
	case FieldNumber:
		if c.number < 0.25 && c.text > 0.5 {
			return -1
		}
		return cmp.Or(c.number*0.6+c.distinct*0.4-c.ordinal-c.text*0.5-c.size*0.5-c.money*0.5, -0.01)
	case FieldName:
		return c.text - c.status*0.5 - c.number*0.3
	case FieldQuantity:
		return c.small - c.money - c.ordinal*b2f(c.distinct > 0.5) - 0.2*b2f(c.status > 0.5)
	case FieldPrice, FieldTotal:
		return max(c.money, 0.3*c.small) - c.text*0.5 - c.years*0.5
	case FieldStatus:
		return c.status - c.number*0.5
	case FieldYears:
		return c.years - c.small*0.3
	case FieldDiagram:
		return c.small*0.5 + c.ordinal*0.5 - c.text
	case FieldSize:
		return c.size
	case FieldBought, FieldOrdered, FieldArrived:
		return max(c.date, serials(c))
	case FieldTorque:
		return c.small * 0.3
	}
	return 0
}

// serials lets a column of whole numbers be days that lost their form.
func serials(c content) float64 { return c.number * 0.5 }

func b2f(b bool) float64 { return float64(btoi(b)) }

// guess is how strongly heading and content speak for a field in a column.
type guess struct {
	column int
	field  Field
	score  float64
	how    string
}

// assign gives each column the field that speaks for it most. Headings go
// before content; content alone must be plain.
func assign(g grid, header []int, heads []string, opts Options) ([]Column, string) {
	columns := make([]Column, len(heads))
	first := 0
	if len(header) > 0 {
		first = header[len(header)-1] + 1
	}
	var guesses []guess
	languages := map[string]int{}
	taken := map[Field]bool{}
	for i, head := range heads {
		columns[i] = Column{Letter: letter(i), Heading: head}
		if f, ok := told(opts, columns[i]); ok {
			columns[i].Field, columns[i].How = f, "told"
			taken[f] = true
			continue
		}
		c, names := look(columnValues(g, first, i)), headingNames(g, header, i, head)
		for f, n := range names {
			if n.strength == 2 {
				languages[n.language]++
			}
			guesses = append(guesses, headingGuess(i, f, n, c))
			if f == FieldPlace && c.container >= 0.5 { // "Where" may ask where it lies
				guesses = append(guesses, guess{i, FieldBox, guesses[len(guesses)-1].score + 1, "content"})
			}
		}
		if len(names) == 0 && !c.empty {
			guesses = append(guesses, contentGuesses(i, head, c)...)
		}
	}
	takeBest(columns, guesses, taken)
	for i := range columns {
		if columns[i].Field == fieldNotKnown && columns[i].Heading == "" && look(columnValues(g, first, i)).empty &&
			len(header) > 0 && !taken[FieldNote] {
			columns[i].Field, columns[i].How = FieldNote, "empty"
			taken[FieldNote] = true
		}
	}
	return columns, mostly(languages)
}

// headingNames is which fields the heading of a column may name. Of a heading in
// two rows the lower one counts where the whole names nothing for sure.
func headingNames(g grid, header []int, column int, head string) map[Field]named {
	names := readHeading(head)
	if len(header) != 2 {
		return names
	}
	lower := g.at(header[1], column).text
	if len(names) == 0 || lower != "" && !anySure(names) {
		if fromLower := readHeading(lower); len(fromLower) > 0 {
			return fromLower
		}
	}
	return names
}

// headingGuess weighs what a heading says against what stands below it.
func headingGuess(column int, f Field, n named, c content) guess {
	fit := c.fitsField(f)
	score := float64(n.strength)*5 + fit*4
	if fit < -0.4 && !c.empty {
		score -= 6
	}
	return guess{column, f, score, "heading"}
}

// takeBest gives columns their fields, the strongest guess first; a field that is
// taken is given to no second column, but for notes and what is left out.
func takeBest(columns []Column, guesses []guess, taken map[Field]bool) {
	slices.SortStableFunc(guesses, func(a, b guess) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.column, b.column), cmp.Compare(a.field, b.field))
	})
	for _, x := range guesses {
		if columns[x.column].Field != fieldNotKnown || taken[x.field] && x.field != FieldNote && x.field != FieldNothing ||
			x.score < 3 {
			continue
		}
		columns[x.column].Field, columns[x.column].How = x.field, x.how
		taken[x.field] = true
	}
}

func anySure(names map[Field]named) bool {
	for _, n := range names {
		if n.strength == 2 {
			return true
		}
	}
	return false
}

// fewest is how many values must stand in a column before states are told by
// them alone: a letter or two may stand for anything.
const fewest = 4

func contentGuesses(column int, head string, c content) []guess {
	var list []guess
	least := 0.75
	for _, f := range []Field{FieldNumber, FieldName, FieldQuantity, FieldPrice, FieldStatus, FieldYears, FieldSize} {
		if f == FieldStatus && c.filled < fewest {
			continue
		}
		if fit := c.fitsField(f); fit >= least {
			list = append(list, guess{column, f, fit * 4.5, "content"})
		}
	}
	return list
}

// told is what a person said of a column; its heading goes before its letter.
func told(opts Options, c Column) (Field, bool) {
	for heading, f := range opts.Columns {
		if c.Is(heading) && !strings.EqualFold(heading, c.Letter) {
			return f, true
		}
	}
	for heading, f := range opts.Columns {
		if c.Is(heading) {
			return f, true
		}
	}
	return fieldNotKnown, false
}

func mostly(counts map[string]int) string {
	best := ""
	for _, name := range []string{"en", "de", "fr", "it", "es", "nl", "sv"} {
		if counts[name] > counts[best] {
			best = name
		}
	}
	return best
}

// columnValues are the cells of a column below the heading, without rows that
// only one cell of is filled: those are headings between.
func columnValues(g grid, first, column int) []cell {
	var values []cell
	for i := first; i < len(g.rows); i++ {
		if filled(g.rows[i]) > 1 || g.width() == 1 {
			values = append(values, g.at(i, column))
		}
	}
	return values
}
