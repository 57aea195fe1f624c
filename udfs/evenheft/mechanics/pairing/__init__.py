"""The set as a whole: which shaft of a batch and which stock weights go to which head, proven best."""
