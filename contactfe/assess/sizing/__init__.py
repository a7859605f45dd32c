"""The wall sized: which is the smallest that passes, and which concentrates stress least."""
