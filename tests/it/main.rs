//! Native tests: one binary, one module a topic.
