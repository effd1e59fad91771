package store

import "syscall"

// networks are the magic numbers of network file systems, from statfs(2) of
// the Linux manual pages and linux/magic.h.
var networks = map[uint32]string{
	0x6969:     "nfs",
	0x517b:     "smb",
	0xfe534d42: "smb2",
	0xff534d42: "cifs",
	0x564c:     "ncp",
	0x73757245: "coda",
	0x5346414f: "afs",
	0x6b414653: "afs",
	0x00c36400: "ceph",
	0x7461636f: "ocfs2",
	0x01161970: "gfs2",
	0x0bd00bd0: "lustre",
}

// fileSystem tells whether the folder is on a network file system, and which.
func fileSystem(folder string) (name string, network bool, err error) {
	var stat syscall.Statfs_t
	if err := syscall.Statfs(folder, &stat); err != nil {
		return "", false, err
	}
	name, network = networks[uint32(stat.Type)]
	return name, network, nil
}
