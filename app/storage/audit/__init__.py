"""The trail of acts: who did what to the content, in one chain that only grows."""
