"""What a lot tells: progress, kit list, yield, outliers."""
