// Package page lays an answer out for reading: sections with sentences and tables, printed
// to a terminal's width, as Markdown, as CSV or as JSON. Page is what every answer becomes,
// Section and Table are what it is made of; Hard, Wrap, List, Join and the others are the
// small words and cuts that pages share. It knows no answer and no command.
package page
