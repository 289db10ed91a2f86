// Package mills is the pages beside the mill: campaigns and charges, what sensors tell, and what
// the runs taught.
package mills
