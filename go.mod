module matewell

go 1.26.0

require (
	// This version sorts below v0.7.7 but is newer: keep it pinned. A dependency
	// that asks for v0.7.7 would silently swap the API under graph/store.
	github.com/cayleygraph/cayley v0.7.7-0.20240706181042-81dcd7d73e45
	github.com/cayleygraph/quad v1.3.0
)

require (
	github.com/agext/levenshtein v1.2.3
	github.com/crillab/gophersat v1.4.0
	github.com/gofrs/flock v0.13.2
	github.com/hidal-go/hidalgo v0.3.0
	github.com/invopop/jsonschema v0.14.0
	// v1.1 fills a table of character widths at every start, 4 ms of it.
	github.com/olekukonko/tablewriter v1.0.9
	github.com/piprate/json-gold v0.9.1
	github.com/rogpeppe/go-internal v1.16.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/spf13/cobra v1.10.2
	github.com/spf13/pflag v1.0.9
	github.com/syndtr/goleveldb v1.0.0
	// The spreadsheet library that is quickest to start: see DEVELOPERS.md.
	github.com/tealeg/xlsx/v3 v3.3.13
	github.com/vbauerster/mpb/v8 v8.16.2
	go.yaml.in/yaml/v3 v3.0.6
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	golang.org/x/text v0.23.0
	google.golang.org/protobuf v1.34.2 // indirect
	pgregory.net/rapid v1.3.0
)

require (
	github.com/VividCortex/ewma v1.2.0 // indirect
	github.com/acarl005/stripansi v0.0.0-20180116102854-5a71ef0e047d // indirect
	github.com/bahlo/generic-list-go v0.2.0 // indirect
	github.com/beorn7/perks v1.0.1 // indirect
	github.com/buger/jsonparser v1.1.2 // indirect
	github.com/cespare/xxhash/v2 v2.3.0 // indirect
	github.com/clipperhouse/uax29/v2 v2.7.0 // indirect
	github.com/fatih/color v1.18.0 // indirect
	github.com/frankban/quicktest v1.14.6 // indirect
	github.com/go-json-experiment/json v1.27.2
	github.com/golang/snappy v0.0.4 // indirect
	github.com/google/btree v1.0.0 // indirect
	github.com/google/go-cmp v0.6.0 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/kr/pretty v0.3.1 // indirect
	github.com/kr/text v0.2.0 // indirect
	github.com/lanrat/extsort v1.5.0
	github.com/lib/pq v1.10.9
	github.com/mattn/go-colorable v0.1.14 // indirect
	github.com/mattn/go-isatty v0.0.22 // indirect
	github.com/mattn/go-runewidth v0.0.30 // indirect
	github.com/olekukonko/cat v0.0.0-20250911104152-50322a0618f6 // indirect
	github.com/olekukonko/errors v1.2.0 // indirect
	github.com/olekukonko/ll v0.1.6 // indirect
	github.com/pb33f/ordered-map/v2 v2.3.1 // indirect
	github.com/peterbourgon/diskv/v3 v3.0.1 // indirect
	github.com/pquerna/cachecontrol v0.2.0 // indirect
	github.com/prometheus/client_golang v1.19.1 // indirect
	github.com/prometheus/client_model v0.5.0 // indirect
	github.com/prometheus/common v0.48.0 // indirect
	github.com/prometheus/procfs v0.12.0 // indirect
	github.com/rivo/uniseg v0.4.4 // indirect
	github.com/rogpeppe/fastuuid v1.2.0 // indirect
	github.com/shabbyrobe/xmlwriter v0.0.0-20200208144257-9fca06d00ffa // indirect
	github.com/tylertreat/BoomFilters v0.0.0-20210315201527-1a82519a3e43 // indirect
	github.com/vbauerster/cupwriter v0.0.5 // indirect
	go.yaml.in/yaml/v4 v4.0.0-rc.2 // indirect
	golang.org/x/tools v0.32.0 // indirect
)

require github.com/jackc/pgservicefile v0.0.0-20240606120523-5a60cdf6a761

require golang.org/x/sync v0.22.0 // indirect
