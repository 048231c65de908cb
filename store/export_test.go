package store

// TraceTables lists the tables in which something of a party is kept.
func TraceTables() []string {
	tables := make([]string, len(traces))
	for k, t := range traces {
		tables[k] = t.table
	}
	return tables
}
