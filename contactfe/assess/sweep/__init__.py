"""A case solved with many values of its keys, over processes of one machine or of many."""
