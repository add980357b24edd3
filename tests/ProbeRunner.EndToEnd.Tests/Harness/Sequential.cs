// Every test here starts processes that take turns with two cores; side by side they would only wait for one another.
[assembly: CollectionBehavior(DisableTestParallelization = true)]
