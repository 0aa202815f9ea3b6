/** Lengths this near their limit meet it: the rounding of a sum of coordinates, far under any tape. mm. */
export const LENGTH_SLACK_MM = 1e-6
