"""What was typed in an older order, carried into a new one."""
