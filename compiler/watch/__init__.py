"""The server of the page: it follows a file and answers pages on this machine, and nobody else."""
