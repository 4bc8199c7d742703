# cmake -DINPUT=FILE -DOUTPUT=FILE.inc -P embed.cmake: a file's bytes, separated by commas, as an
# array wants them.
file(READ ${INPUT} hex HEX)
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
string(REPEAT "." 80 line)
string(REGEX REPLACE "(${line})" "\\1\n" bytes "${bytes}")
file(WRITE ${OUTPUT} "${bytes}\n")
