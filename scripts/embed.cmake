# cmake -DINPUT=FILE -DOUTPUT=FILE.inc -P embed.cmake: a file's bytes, separated by commas, for an array's braces.
file(READ ${INPUT} hex HEX)
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
string(REGEX REPLACE "(................................................................................)" "\\1\n"
    bytes "${bytes}")
file(WRITE ${OUTPUT} "${bytes}\n")
