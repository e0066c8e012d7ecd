"""One module for each change of the tables; what stands here is never changed afterwards."""
