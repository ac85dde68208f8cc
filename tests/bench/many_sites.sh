#!/bin/sh
# Writes a scene with 10 stations that all stay, 200 sites for nests and 40 features: the size that
# docs/nests.md gives times for. Usage: sh tests/bench/many_sites.sh [SEEN [MOST]] > scene.json
# SEEN: a range in mm beyond which nothing is seen (default 40000); a short one makes ties scarce.
# MOST: rules.max_expanded, mm (default: none).
awk -v seen="${1:-40000}" -v most="$2" 'BEGIN {
  srand(7)
  printf "{\"format\": \"standpoint-scene\", \"version\": 1, \"name\": \"many sites\", \"units\": \"mm\",\n"
  printf "\"instrument\": {\"beam\": {\"diameter\": 6}, \"range\": [400, %d], \"elevation\": [-60, 75],\n", seen
  printf "  \"error\": {\"transverse\": {\"fixed\": 0.014, \"per_metre\": 0.0075}, \"radial\": {\"fixed\": 0.012, \"per_metre\": 0.0009}}},\n"
  printf "\"full_targets\": [{\"name\": \"ball\", \"diameter\": 38.1, \"acceptance\": 60, \"aperture\": 42}],\n\"features\": ["
  for (i = 0; i < 40; ++i)
    printf "%s{\"name\": \"f%d\", \"type\": \"point\", \"at\": [%.1f, %.1f, %.1f], \"normal\": [0, 0, 1]}", i ? ",\n" : "", i, rand() * 20000 - 10000, rand() * 6000 - 3000, rand() * 1500 + 300
  printf "],\n\"nest_sites\": ["
  for (i = 0; i < 200; ++i)
    printf "%s{\"name\": \"s%d\", \"at\": [%.1f, %.1f, %.1f], \"normal\": [0, 0, 1], \"seat\": 30}", i ? ",\n" : "", i, rand() * 22000 - 11000, rand() * 9000 - 4500, rand() * 1500
  printf "],\n\"stations\": {\"fixed\": ["
  for (i = 0; i < 10; ++i)
    printf "%s{\"name\": \"S%d\", \"at\": [%.1f, %.1f, %.1f], \"keep\": true}", i ? ",\n" : "", i, (i % 5) * 5000 - 10000, i < 5 ? -7000 : 7000, 1700
  printf "]}"
  if (most != "") printf ",\n\"rules\": {\"max_expanded\": %s}", most
  printf "}\n"
}'
