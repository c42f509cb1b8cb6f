"""The contract: every shape that crosses the wire, with its units and bounds."""
