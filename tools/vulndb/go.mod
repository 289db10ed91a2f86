// The list of known vulnerabilities of Go and its modules, as of one day: only its data
// is read (see scripts/vulnerabilities). To renew it: go get golang.org/x/vulndb@latest
module hopperful/tools/vulndb

go 1.26.0

require golang.org/x/vulndb v0.0.0-20261105234957-e22db6528018
