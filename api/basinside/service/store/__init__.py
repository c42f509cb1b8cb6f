"""What is kept: the only place that knows where and how."""
