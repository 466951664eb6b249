"""From a layout to cuts: machine files, the order of cutting, times, the quote, drawings and pages."""
