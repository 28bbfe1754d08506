// Package data has the benchmark classes that are free to publish, one file a class. README.md
// beside it names authors and license.
package data

import "embed"

// Files has NAME.txt.gz for each class.
//
//go:embed *.txt.gz
var Files embed.FS

// Retail has the class retail: a line of JSON for each job, with its optimum.
//
//go:embed retail.jsonl
var Retail []byte
