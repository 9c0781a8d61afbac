package store

import "github.com/cayleygraph/quad"

// The namespaces. Own terms live in ours; published terms are used only where
// they mean exactly what is said here.
const (
	ownTerms   = "https://matewell.example/terms#"
	rdfTerms   = "http://www.w3.org/1999/02/22-rdf-syntax-ns#" // RDF 1.1 Schema, W3C 2014
	provTerms  = "http://www.w3.org/ns/prov#"                  // PROV-O, W3C 2013
	schemaOrg  = "https://schema.org/"                         // schema.org
	qudtTerms  = "http://qudt.org/schema/qudt/"                // QUDT 2.1
	qudtUnits  = "http://qudt.org/vocab/unit/"                 // QUDT 2.1, vocabulary of units
	xsdTypes   = "http://www.w3.org/2001/XMLSchema#"           // XML Schema 1.1 part 2, W3C 2012
	identities = "https://matewell.example/id/"                // see iri.go
)

// The datatypes of literals that are not plain text.
const (
	xsdInteger quad.IRI = xsdTypes + "integer"
	xsdBoolean quad.IRI = xsdTypes + "boolean"
	xsdDecimal quad.IRI = xsdTypes + "decimal"
)

// The classes: what rdf:type says of a node. A node of a part of a record, such
// as one change of a finding, has no class.
const (
	classSource       quad.IRI = ownTerms + "Source"
	classBrand        quad.IRI = ownTerms + "Brand"
	classKind         quad.IRI = ownTerms + "Kind"
	classModel        quad.IRI = ownTerms + "Model"
	classVariant      quad.IRI = ownTerms + "Variant"
	classAssembly     quad.IRI = ownTerms + "Assembly"
	classPosition     quad.IRI = ownTerms + "Position"
	classPart         quad.IRI = ownTerms + "Part"
	classFitment      quad.IRI = ownTerms + "Fitment"
	classJoint        quad.IRI = ownTerms + "Joint"
	classRun          quad.IRI = ownTerms + "Run"
	classCircuit      quad.IRI = ownTerms + "Circuit"
	classStack        quad.IRI = ownTerms + "Stack"
	classSupersession quad.IRI = ownTerms + "Supersession"
	classFinding      quad.IRI = ownTerms + "Finding"
	classBike         quad.IRI = ownTerms + "Bike"
	classJob          quad.IRI = ownTerms + "Job"
)

// The predicates. Subject -> object, then what it means. "Text" is a plain
// string, "number" an xsd:integer, "yes" an xsd:boolean that is only written
// when true. Absent always means "not stated".
const (
	// Any record -> class.
	rdfType quad.IRI = rdfTerms + "type"
	// One reading among several by one source -> text: the value as written.
	rdfValue quad.IRI = rdfTerms + "value"
	// Followed by a number from 1: list -> its member at that place.
	rdfMember quad.IRI = rdfTerms + "_"

	// Record or part of one -> text "file:line:col", "-" when no place is
	// known: where in the files the label's source says it.
	termAt quad.IRI = ownTerms + "at"
	// Reading -> text: how it was measured.
	termWith quad.IRI = ownTerms + "with"
	// Followed by a name, as in dim/bore: feature -> text, one source's
	// reading of that dimension, as written with its unit and tolerance.
	termDim quad.IRI = ownTerms + "dim/"

	// Anything -> text: what it is called in print; of a source its title.
	termName quad.IRI = schemaOrg + "name"
	// Source or supersession -> text: an ISO 8601 date of publication, whole
	// or cut off after year or month.
	termPublished quad.IRI = schemaOrg + "datePublished"
	// Finding -> text: an ISO 8601 date. PROV-O's generatedAtTime is not used
	// because it wants a time of day, which nobody writes down.
	termFoundOn quad.IRI = schemaOrg + "dateCreated"
	// Finding -> person: who says so.
	termBy quad.IRI = provTerms + "wasAttributedTo"
	// Source -> source, or finding -> origin: what it was taken from.
	termOrigin quad.IRI = provTerms + "wasDerivedFrom"
	// Old part -> new part, as the supersession with both as ends says.
	termPredecessorOf quad.IRI = schemaOrg + "predecessorOf"
	// New part -> old part: the same edge seen from the other end.
	termSuccessorOf quad.IRI = schemaOrg + "successorOf"
	// Part -> model it has a fitment on.
	termPartFor quad.IRI = schemaOrg + "isAccessoryOrSparePartFor"

	// Source -> text: one of graph.SourceKinds.
	termSourceKind quad.IRI = ownTerms + "source-kind"
	// Source or supersession -> number: first and last model year of its
	// scope.
	termYearFrom quad.IRI = ownTerms + "year-from"
	termYearTo   quad.IRI = ownTerms + "year-to"
	// Variant, source or supersession -> text: market, and the mark that tells
	// variants of one year and market apart.
	termMarket quad.IRI = ownTerms + "market"
	termMark   quad.IRI = ownTerms + "mark"
	// Variant, source or supersession -> frame numbers: text before the
	// counter, first and last counter (number), digits the counter is padded to.
	termFramePrefix quad.IRI = ownTerms + "frame-prefix"
	termFrameFrom   quad.IRI = ownTerms + "frame-from"
	termFrameTo     quad.IRI = ownTerms + "frame-to"
	termFrameDigits quad.IRI = ownTerms + "frame-digits"

	// Brand -> text: masks of core, revision and colour of its numbers.
	termFormCore     quad.IRI = ownTerms + "form-core"
	termFormRevision quad.IRI = ownTerms + "form-revision"
	termFormColour   quad.IRI = ownTerms + "form-colour"

	// Part -> brand; model -> brand that made it.
	termBrand quad.IRI = ownTerms + "brand"
	termMaker quad.IRI = ownTerms + "maker"
	// Part -> text: its number whole, its core, its revision, its colour.
	termNumber   quad.IRI = ownTerms + "number"
	termCore     quad.IRI = ownTerms + "core"
	termRevision quad.IRI = ownTerms + "revision"
	termColour   quad.IRI = ownTerms + "colour"
	// Part -> text: a folded number, core or alias it is found by. Follows
	// from its other facts.
	termKey quad.IRI = ownTerms + "key"
	// Followed by the type of alias: part -> text of the mark.
	termAlias quad.IRI = ownTerms + "alias/"
	// Part, position, bag item or inner part of a job -> kind.
	termKind quad.IRI = ownTerms + "kind"
	// Inner part of a job -> kind of part that it belongs to.
	termBelongsTo quad.IRI = ownTerms + "belongs-to"
	// Part or kind -> feature, a part of the record.
	termFeature quad.IRI = ownTerms + "feature"
	// Feature, or inner part of a job -> text: name of its feature kind.
	termFeatureKind quad.IRI = ownTerms + "feature-kind"
	// Kind -> feature kind that its parts have. Follows from its features: so
	// that looking for it doesn't come across the features of every part.
	termOffers quad.IRI = ownTerms + "offers"
	// Feature of a kind -> yes: a part may do without it.
	termMay quad.IRI = ownTerms + "may"
	// Feature of a kind -> yes: nothing is made to go between it and what it meets.
	termDirect quad.IRI = ownTerms + "direct"
	// Feature of a kind -> text: a dimension that decides nothing for parts of
	// the kind, a blank, and why.
	termInforms quad.IRI = ownTerms + "informs"
	// Kind -> text: what such a part does and where it sits.
	termMeaning quad.IRI = ownTerms + "meaning"
	// Kit -> part it contains. Follows from its contents.
	termContains quad.IRI = ownTerms + "contains"
	// Kit -> one line of its contents, a part of the record.
	termContent quad.IRI = ownTerms + "content"
	// Kit -> yes: its contents are made to each other.
	termMatched quad.IRI = ownTerms + "matched"
	// Part -> text: a price as written.
	termPrice quad.IRI = ownTerms + "price"
	// Anything -> text: free remark.
	termNote quad.IRI = ownTerms + "note"

	// Assembly, position, joint, run, circuit or stack -> model.
	termModel quad.IRI = ownTerms + "model"
	// Variant -> model. A term of its own: nearly every question asks for the
	// few variants among the thousand things that belong to a model.
	termVariantOf quad.IRI = ownTerms + "variantOf"
	// Variant -> number: model year.
	termYear quad.IRI = ownTerms + "year"
	// Variant -> text: a colour scheme it was sold in; fitment -> the one it
	// belongs to; bike -> the one it has.
	termScheme quad.IRI = ownTerms + "scheme"
	// Position -> assembly.
	termAssembly quad.IRI = ownTerms + "assembly"
	// Position -> text: side.
	termSide quad.IRI = ownTerms + "side"
	// Position -> number: which one of several, from 1.
	termIndex quad.IRI = ownTerms + "index"
	// Position, fitment, content, companion or item -> number: how many.
	termQuantity quad.IRI = ownTerms + "quantity"
	// Position -> text: safety class.
	termSafety quad.IRI = ownTerms + "safety"
	// Kind -> yes: it is made to go between two parts that do not meet each other.
	termJoins quad.IRI = ownTerms + "joins"
	// Position or kind -> text: what it does that the road asks for.
	termRoad quad.IRI = ownTerms + "road"
	// Position -> yes: new every time; joint -> position renewed when opened.
	termRenewed quad.IRI = ownTerms + "renewed"
	// Position -> list of what it takes each time; of that, text: what and its
	// grade; readings: how much of it. Circuit -> readings: what fills it.
	termTakes      quad.IRI = ownTerms + "takes"
	termWhat       quad.IRI = ownTerms + "what"
	termGrade      quad.IRI = ownTerms + "grade"
	termHowMuch    quad.IRI = ownTerms + "how-much"
	termFilledWith quad.IRI = ownTerms + "filled-with"
	// Part -> yes: it is sold no more.
	termGone   quad.IRI = ownTerms + "gone"
	termRenews quad.IRI = ownTerms + "renews"
	// Position -> position that must be on before it.
	termAfter quad.IRI = ownTerms + "after"
	// Position, fitment, joint, run, circuit, stack or finding -> variant it
	// holds on.
	termOn quad.IRI = ownTerms + "on"
	// Fitment, finding or thing fitted -> position.
	termPosition quad.IRI = ownTerms + "position"
	// Fitment, finding, content, companion, change, item -> part.
	termPart quad.IRI = ownTerms + "part"
	// Joint, run, circuit or stack -> position it has to do with. Follows from
	// its other facts.
	termTouches quad.IRI = ownTerms + "touches"

	// Joint -> the two features that meet. A feature at a position is the
	// position with the name of the feature as fragment.
	termSideA quad.IRI = ownTerms + "side-a"
	termSideB quad.IRI = ownTerms + "side-b"
	// Joint -> position of a bolt, nut or washer.
	termFastener quad.IRI = ownTerms + "fastener"
	// Joint -> text: tightening torque as written.
	termTorque quad.IRI = ownTerms + "torque"
	// Joint -> text: clearance wanted, as written.
	termAllow quad.IRI = ownTerms + "allow"

	// Run -> position of the hose, cable or lead; features it starts and ends
	// at; list of features that move an end, of those whose length does.
	termLine         quad.IRI = ownTerms + "line"
	termFrom         quad.IRI = ownTerms + "from"
	termTo           quad.IRI = ownTerms + "to"
	termMovedBy      quad.IRI = ownTerms + "moved-by"
	termLengthenedBy quad.IRI = ownTerms + "lengthened-by"
	// Followed by lock/fork, as in need/left/extended: run -> text, the length
	// it needs there.
	termNeed quad.IRI = ownTerms + "need/"
	// Run -> text: inner length of a cable; length to spare.
	termInner quad.IRI = ownTerms + "inner"
	termSpare quad.IRI = ownTerms + "spare"
	// Run -> list of texts: what holds it, in order.
	termGuides quad.IRI = ownTerms + "guides"
	// Run -> position of an exhaust part that it passes; text: how far from it as
	// built, and at least.
	termHot      quad.IRI = ownTerms + "hot"
	termGap      quad.IRI = ownTerms + "gap"
	termLeastGap quad.IRI = ownTerms + "least-gap"

	// Circuit -> text: what it carries; which wheel it brakes.
	termCarries quad.IRI = ownTerms + "carries"
	termWheel   quad.IRI = ownTerms + "wheel"
	// Circuit -> list of positions that feed it, list of those fed by it.
	termFeeds quad.IRI = ownTerms + "feeds"
	termFed   quad.IRI = ownTerms + "fed"
	// Circuit -> position the fluid or current meets.
	termMember quad.IRI = ownTerms + "member"

	// Stack -> feature it must fill, list of features in the row, the one that
	// must be central.
	termWithin quad.IRI = ownTerms + "within"
	termRow    quad.IRI = ownTerms + "row"
	termCentre quad.IRI = ownTerms + "centre"

	// Supersession -> part that was replaced, part that replaced it.
	termOld quad.IRI = ownTerms + "old"
	termNew quad.IRI = ownTerms + "new"
	// Supersession -> "yes" or "no": may the new go where the old was, and the
	// old where the new is.
	termNewOnOld quad.IRI = ownTerms + "new-on-old"
	termOldOnNew quad.IRI = ownTerms + "old-on-new"
	// Supersession -> part that must be changed with it, a part of the record.
	termCompanion quad.IRI = ownTerms + "companion"
	// Supersession -> text: why.
	termReason quad.IRI = ownTerms + "reason"

	// Finding -> bike it was tried on.
	termBike quad.IRI = ownTerms + "bike"
	// Finding -> text: verdict in words, method, reason and date of its being
	// withdrawn.
	termVerdict     quad.IRI = ownTerms + "verdict"
	termMethod      quad.IRI = ownTerms + "method"
	termWithdrawn   quad.IRI = ownTerms + "withdrawn"
	termWithdrawnOn quad.IRI = ownTerms + "withdrawn-on"
	// Finding -> list of changes, of measurements, of names of photos.
	termChanges  quad.IRI = ownTerms + "changes"
	termMeasured quad.IRI = ownTerms + "measured"
	termPhotos   quad.IRI = ownTerms + "photos"
	// Change -> text: what had to be done; number: effort class.
	termDo     quad.IRI = ownTerms + "do"
	termEffort quad.IRI = ownTerms + "effort"
	// Measurement -> text: name of the feature, name of the dimension.
	termOfFeature   quad.IRI = ownTerms + "of-feature"
	termOfDimension quad.IRI = ownTerms + "of-dimension"

	// Bike -> variant it was built as; text: frame number as stamped.
	termVariant quad.IRI = ownTerms + "variant"
	termFrame   quad.IRI = ownTerms + "frame"
	// Bike -> what is on it, what is to go on it, parts of the record.
	termFound   quad.IRI = ownTerms + "found"
	termPlanned quad.IRI = ownTerms + "planned"
	// Bike -> yes: nothing is on it but what is noted. Bike -> what was noted of
	// whole assemblies, what was moved, parts of the record.
	termApart          quad.IRI = ownTerms + "apart"
	termAssemblyNote   quad.IRI = ownTerms + "assembly-note"
	termMoved          quad.IRI = ownTerms + "moved"
	termNothingCarries quad.IRI = ownTerms + "nothing-carries"
	termCarriedBy      quad.IRI = ownTerms + "carried-by"
	termUp             quad.IRI = ownTerms + "moved-up"
	termForward        quad.IRI = ownTerms + "moved-forward"
	termAbove          quad.IRI = ownTerms + "stands-above"
	termLeft           quad.IRI = ownTerms + "moved-left"
	// What is on a bike, of an assembly or at a position -> yes: as the book
	// says. What is on it or lies in a box -> text: its condition.
	termAsBuilt   quad.IRI = ownTerms + "as-built"
	termCondition quad.IRI = ownTerms + "condition"
	// Bike -> list of boxes, list of bags; box or bag -> list of its items.
	termBoxes quad.IRI = ownTerms + "boxes"
	termBags  quad.IRI = ownTerms + "bags"
	termItems quad.IRI = ownTerms + "items"
	// Bag -> text: what is written on it; box item -> how it was identified.
	termLabel quad.IRI = ownTerms + "label"
	termSure  quad.IRI = ownTerms + "sure"

	// Job -> lists of kits, inner parts, fluids, things to inspect, steps, checks
	// and cautions, each a part of the record. Its places are positions.
	termKits       quad.IRI = ownTerms + "kits"
	termInnerParts quad.IRI = ownTerms + "inner-parts"
	termFill       quad.IRI = ownTerms + "fill"
	termLook       quad.IRI = ownTerms + "inspect"
	termSteps      quad.IRI = ownTerms + "steps"
	termChecks     quad.IRI = ownTerms + "checks"
	termCautions   quad.IRI = ownTerms + "cautions"
	// Line of a job -> text: what it says, the form of fork leg it holds for; list of who says so.
	termText quad.IRI = ownTerms + "text"
	termLegs quad.IRI = ownTerms + "legs"
	termSaid quad.IRI = ownTerms + "said"
	// Fluid -> text: which sort, how much, where it goes.
	termSpec   quad.IRI = ownTerms + "spec"
	termAmount quad.IRI = ownTerms + "amount"
	termWhere  quad.IRI = ownTerms + "where"
	// Thing to inspect -> text: what to look for, the limit as written.
	termLookFor quad.IRI = ownTerms + "look-for"
	termLimit   quad.IRI = ownTerms + "limit"
)

// The predicates of quantities, which follow from the readings of parts and are
// written to exports only: see quantity.go.
const (
	// Feature -> quantity, a part of the record: one reading as a number.
	qudtHasQuantity quad.IRI = qudtTerms + "hasQuantity"
	// Quantity -> decimal: its value, and its limits where it has some.
	qudtNumericValue quad.IRI = qudtTerms + "numericValue"
	qudtLowerBound   quad.IRI = qudtTerms + "lowerBound"
	qudtUpperBound   quad.IRI = qudtTerms + "upperBound"
	// Quantity -> QUDT unit of all three.
	qudtHasUnit quad.IRI = qudtTerms + "hasUnit"
)

// What is added to the predicate of a reading for its companions: how it was
// measured, where it stands, and the node that keeps them together where one
// source gives several readings of one quantity.
const (
	suffixWith    quad.IRI = "/with"
	suffixAt      quad.IRI = "/at"
	suffixReading quad.IRI = "/reading"
)
